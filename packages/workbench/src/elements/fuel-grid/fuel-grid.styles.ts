import { css } from "lit";

/** `--cw` and `--ch` are the size of a cell, `--columns` and `--rows` how many there are: all set by the element. */
export const fuelGridStyles = css`
  :host {
    display: block;
    position: relative;
    container-type: inline-size;
    color: var(--ink);
    background: var(--sheet);
    border: var(--line) solid var(--rule-2);
    font: 13px/1.4 var(--font);
    font-variant-numeric: tabular-nums;
    --heads-width: 52px;
    --heads-height: 28px;
    --under-height: var(--fw-grid-under, 92px);
    --beside-width: var(--fw-grid-beside, 118px);
  }
  :host([hidden]) {
    display: none;
  }
  .scroller {
    overflow: auto;
    max-height: var(--fw-grid-max-height, min(72vh, 760px));
    overscroll-behavior: contain;
    scrollbar-width: thin;
    scrollbar-color: var(--rule-2) transparent;
  }
  .content {
    display: grid;
    grid-template-columns: var(--heads-width) calc(var(--cw) * var(--columns)) minmax(0, 1fr);
    grid-template-rows: calc(var(--ch) * var(--rows)) var(--heads-height) var(--under);
    --under: 0px;
    width: max-content;
    min-width: 100%;
    isolation: isolate;
    user-select: none;
    -webkit-user-select: none;
    touch-action: pan-x pan-y;
    cursor: cell;
  }
  .content.has-under {
    --under: var(--under-height);
  }
  .content.has-beside {
    grid-template-columns: var(--heads-width) calc(var(--cw) * var(--columns)) minmax(var(--beside-width), 1fr);
  }

  /* Drawn, not read: tints, lines, marks, figures, the boxes of the selection. */
  .cells {
    grid-area: 1 / 2;
    position: relative;
  }
  .drawn {
    position: absolute;
    inset: 0;
    contain: strict;
    /* Forced colours come by the tokens: a plate behind each line of figures would hide tints and signs. */
    forced-color-adjust: none;
  }
  .tints {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    image-rendering: pixelated;
  }
  /* Layers of their own: new tints or a moved box leave the figures as they are painted. */
  .tints,
  .boxes {
    will-change: transform;
  }
  .boxes {
    position: absolute;
    inset: 0;
  }
  .lines {
    position: absolute;
    inset: 0;
    background:
      linear-gradient(to right, var(--rule) 1px, transparent 1px) 0 0 / var(--cw) var(--ch),
      linear-gradient(to top, var(--rule) 1px, transparent 1px) 0 0 / var(--cw) var(--ch);
  }
  .marks {
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    shape-rendering: crispEdges;
    fill: var(--ink);
  }
  .sign {
    fill-opacity: 0.75;
  }
  .ceiling {
    fill: url(#hatch);
  }
  .hatch-line {
    fill: none;
    stroke: var(--ink);
    stroke-opacity: 0.4;
    shape-rendering: auto;
  }
  .estimate {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.5;
    stroke-dasharray: 1.5 2;
  }
  .locked,
  .evidence {
    shape-rendering: auto;
  }
  .deviation {
    fill: var(--ink-2);
  }
  .figures {
    position: absolute;
    top: calc(var(--y0) * var(--ch));
    left: calc(var(--x0) * var(--cw) + var(--figure-left));
    width: calc((var(--x1) - var(--x0)) * var(--cw));
    font-size: var(--figure-size);
    word-spacing: var(--figure-gap);
  }
  .figures,
  .probe {
    white-space: pre;
    font-kerning: none;
    font-variant-ligatures: none;
  }
  .monospaced {
    font-family: ui-monospace, "DejaVu Sans Mono", monospace;
  }
  .figures > div {
    position: relative;
    height: var(--ch);
    line-height: var(--ch);
    contain: strict;
  }
  .box {
    position: absolute;
    top: 0;
    left: 0;
    pointer-events: none;
  }
  .hover {
    box-shadow: inset 0 0 0 1px var(--ink-2);
  }
  .range {
    background: color-mix(in srgb, var(--ink) 9%, transparent);
    box-shadow: inset 0 0 0 1px var(--ink);
  }
  .focus {
    border: var(--line-2) solid var(--ink-2);
    box-sizing: border-box;
  }
  .content:focus-within .focus {
    border-color: var(--focus);
    outline: 1px solid var(--sheet);
  }
  .handle {
    position: absolute;
    top: 0;
    left: 0;
    z-index: 2;
    width: 32px;
    height: 32px;
    margin: -16px 0 0 -16px;
    touch-action: none;
    display: none;
    cursor: nwse-resize;
  }
  .handle::after {
    content: "";
    position: absolute;
    inset: 9px;
    border-radius: 50%;
    background: var(--focus);
    border: 1px solid var(--sheet);
  }
  .touched .handle {
    display: block;
  }

  /* Read and focused, not drawn: rows and gridcells, and the headers, which are both. */
  .grid {
    grid-area: 1 / 1 / -1 / -1;
    position: relative;
    pointer-events: none;
  }
  .grid:focus {
    outline: none;
  }
  .rows {
    position: relative;
    height: calc(var(--ch) * var(--rows));
  }
  .rows > [role="row"] {
    position: absolute;
    left: 0;
    top: calc(var(--y) * var(--ch));
    width: 100%;
    height: var(--ch);
    display: grid;
    grid-template: var(--ch) / var(--heads-width) repeat(var(--columns), var(--cw)) auto;
  }
  /* Not positioned: thousands of positioned boxes would each be a paint layer of its own. */
  [role="gridcell"] {
    grid-row: 1;
    outline: none;
    pointer-events: auto;
  }
  [role="rowheader"] {
    grid-area: 1 / 1 / 2 / -1;
    position: sticky;
    left: 0;
    z-index: 3;
    width: var(--heads-width);
    height: var(--ch);
    line-height: var(--ch);
    box-sizing: border-box;
    padding-right: 8px;
    text-align: right;
    font-size: min(12px, calc(var(--ch) * 0.8));
    color: var(--ink-2);
    background: var(--sheet);
    pointer-events: auto;
    cursor: default;
  }
  .foot {
    display: contents;
  }
  .heads {
    position: sticky;
    bottom: var(--under);
    z-index: 4;
    height: var(--heads-height);
    background: var(--sheet);
    pointer-events: auto;
    cursor: default;
    contain: layout;
  }
  [role="columnheader"] {
    position: absolute;
    top: 0;
    left: calc(var(--heads-width) + var(--x) * var(--cw));
    width: var(--cw);
    height: var(--heads-height);
    line-height: var(--heads-height);
    text-align: center;
    font-size: 12px;
    color: var(--ink-2);
    white-space: nowrap;
  }
  [role="columnheader"].corner {
    position: sticky;
    left: 0;
    z-index: 1;
    width: var(--heads-width);
    background: var(--sheet);
    font-size: 11px;
    line-height: 13px;
    display: grid;
    align-content: center;
    padding: 0 6px;
    box-sizing: border-box;
    text-align: left;
  }
  .corner span + span {
    text-align: right;
  }
  .here {
    color: var(--ink);
    font-weight: 600;
  }

  .under,
  .beside {
    background: var(--sheet);
    z-index: 4;
    cursor: default;
  }
  .under {
    grid-row: 1 / -1;
    grid-column: 2;
    align-self: end;
    position: sticky;
    bottom: 0;
  }
  .under-corner {
    box-sizing: border-box;
    grid-row: 1 / -1;
    grid-column: 1 / -1;
    align-self: end;
    justify-self: start;
    position: sticky;
    left: 0;
    bottom: 0;
    z-index: 5;
    width: var(--heads-width);
    height: var(--under);
    background: var(--sheet);
  }
  .beside {
    grid-row: 1;
    grid-column: 1 / -1;
    justify-self: end;
    position: sticky;
    right: 0;
    z-index: 3;
    display: none;
    height: calc(var(--ch) * var(--rows));
    width: var(--beside-width);
  }
  .under ::slotted(*) {
    display: block;
    height: var(--under);
  }
  .has-beside .beside {
    display: block;
  }
  .has-beside ::slotted([slot="beside"]) {
    display: block;
    width: 100%;
    height: 100%;
  }

  .legend {
    grid-row: 1 / -1;
    grid-column: 1 / -1;
    align-self: end;
    justify-self: end;
    position: sticky;
    right: 0;
    bottom: 0;
    z-index: 5;
    width: var(--beside-width);
    height: calc(var(--under) + var(--heads-height));
    box-sizing: border-box;
    padding: calc(var(--heads-height) + 3px) var(--space-2) 0;
    background: var(--sheet);
    font-size: 11px;
    color: var(--ink-2);
    cursor: default;
    display: none;
  }
  .has-beside .legend {
    display: block;
  }

  .editor {
    position: absolute;
    left: var(--editor-left);
    top: var(--editor-top);
    z-index: 2;
    min-width: max(var(--cw), 132px);
    height: max(var(--ch), 24px);
    box-sizing: border-box;
    font: inherit;
    font-variant-numeric: inherit;
    font-size: max(13px, var(--figure-size));
    padding: 0 6px;
    border: var(--line-2) solid var(--focus);
    border-radius: 0;
    background: var(--sheet);
    color: var(--ink);
    cursor: text;
    user-select: text;
    -webkit-user-select: text;
  }
  .editor[hidden] {
    display: none;
  }
  .editor:focus {
    outline: 1px solid var(--sheet);
  }
  .editor[aria-invalid="true"] {
    border-color: var(--warn);
    border-style: dashed;
  }
  .problem {
    position: absolute;
    z-index: 2;
    left: var(--editor-left);
    top: calc(var(--editor-top) + max(var(--ch), 24px));
    max-width: 260px;
    padding: 4px 8px;
    background: var(--paper);
    border: var(--line) solid var(--rule-2);
    border-left: 3px solid var(--warn);
    font-size: 12.5px;
    user-select: text;
  }
  .problem:empty {
    display: none;
  }
  .tip {
    position: absolute;
    z-index: 10;
    max-width: min(280px, 90%);
    padding: 5px 9px 6px;
    font-size: 12.5px;
    line-height: 1.4;
    color: var(--ink);
    background: var(--paper);
    border: var(--line) solid var(--rule-2);
    border-left: 3px solid var(--warn);
    pointer-events: none;
  }
  .tip[hidden] {
    display: none;
  }
  .said {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  .empty {
    padding: var(--space-5) var(--space-4);
    color: var(--ink-2);
  }
  .probe {
    position: absolute;
    top: 0;
    visibility: hidden;
    pointer-events: none;
    color: var(--ink);
    background-color: var(--sheet);
    border-left: 0 solid var(--less);
    border-right: 0 solid var(--more);
  }

  @container (max-width: 560px) {
    .content.has-beside {
      grid-template-columns: var(--heads-width) calc(var(--cw) * var(--columns)) minmax(0, 1fr);
    }
    .has-beside :is(.beside, .legend) {
      display: none;
    }
  }
`;
