import { css } from "lit";

export const schemeEditorStyles = css`
  :host {
    display: block;
    container-type: inline-size;
    font: var(--text) / 1.45 var(--font);
    font-variant-numeric: tabular-nums;
    color: var(--ink);
  }
  :host([hidden]) {
    display: none;
  }
  .board {
    display: grid;
    gap: var(--space-5);
    max-width: 58rem;
  }
  @container (min-width: 620px) {
    .board {
      grid-template-columns: minmax(0, 1fr) minmax(0, 1fr);
      column-gap: var(--space-6);
    }
    .wide {
      grid-column: 1 / -1;
    }
  }
  h3,
  legend {
    font: inherit;
    font-weight: 600;
    margin: 0 0 var(--space-1);
    padding: 0;
  }
  p {
    margin: 0;
  }
  fieldset {
    border: 0;
    margin: 0 0 var(--space-4);
    padding: 0;
    min-width: 0;
  }
  .small {
    font-size: var(--text-small);
    color: var(--ink-2);
  }

  button {
    font: inherit;
    color: inherit;
    cursor: pointer;
  }
  :is(button, input, textarea):focus-visible {
    outline: var(--line-2) solid var(--focus);
    outline-offset: 1px;
  }

  .presets {
    list-style: none;
    margin: 0;
    padding: 0;
  }
  .presets button {
    display: grid;
    grid-template-columns: 64px minmax(0, 1fr);
    align-items: center;
    column-gap: var(--space-3);
    width: 100%;
    min-height: 44px;
    padding: 3px var(--space-2);
    text-align: left;
    background: none;
    border: 0;
    border-left: 3px solid transparent;
  }
  .presets button:hover {
    background: color-mix(in srgb, var(--ink) 5%, transparent);
  }
  .presets button[aria-pressed="true"] {
    border-left-color: var(--ink);
  }
  .presets b {
    font-weight: 400;
    line-height: 1.3;
  }
  .presets button[aria-pressed="true"] b {
    font-weight: 600;
  }
  .presets span {
    grid-column: 2;
    font-size: var(--text-small);
    line-height: 1.3;
    color: var(--ink-2);
  }
  .ramp {
    grid-row: span 2;
    height: 14px;
    border: var(--line) solid var(--rule);
    forced-color-adjust: none;
  }

  .colour {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto auto;
    align-items: center;
    gap: var(--space-1) var(--space-2);
    min-height: 36px;
  }
  input[type="color"] {
    width: 40px;
    height: 28px;
    padding: 2px;
    background: none;
    border: var(--line) solid var(--rule-2);
  }
  input[type="text"],
  textarea {
    font: inherit;
    font-size: 13px;
    color: inherit;
    background: var(--paper);
    border: var(--line) solid var(--rule-2);
    border-radius: 0;
    padding: 3px 6px;
    min-height: 28px;
    box-sizing: border-box;
  }
  .colour input[type="text"] {
    width: 5.6rem;
  }
  .colour .paper {
    grid-column: 2 / -1;
    /* As wide as the picker and the field above and below it. */
    width: calc(40px + 5.6rem + var(--space-2));
  }
  .name input {
    width: 100%;
  }
  .name label {
    display: block;
    margin-bottom: 2px;
  }
  textarea {
    display: block;
    width: 100%;
    font: 12px / 1.5 ui-monospace, "DejaVu Sans Mono", monospace;
    resize: vertical;
  }
  [aria-invalid="true"] {
    border-color: var(--warn) !important;
  }
  .error {
    grid-column: 1 / -1;
    border-left: 3px solid var(--warn);
    padding-left: var(--space-2);
    font-size: var(--text-small);
  }
  textarea + .error {
    margin-top: var(--space-2);
  }
  .choice {
    display: flex;
    align-items: center;
    gap: var(--space-2);
    min-height: 28px;
  }
  :is(.choice, .paper) input {
    width: 16px;
    height: 16px;
    margin: 0;
    flex: none;
    accent-color: var(--ink);
  }
  .choice label,
  label.paper {
    display: flex;
    align-items: center;
    gap: var(--space-2);
    min-height: 28px;
  }
  .indent {
    padding-left: 24px;
    max-width: 16rem;
    --fw-number-width: 4rem;
    --fw-number-unit-width: 1rem;
  }

  .sights {
    margin: var(--space-2) 0;
  }
  .sight {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto;
    gap: 2px var(--space-3);
    align-items: center;
    padding: 3px 0;
  }
  dt,
  dd {
    margin: 0;
    font-size: var(--text-small);
  }
  dt {
    color: var(--ink-2);
  }
  .strip {
    grid-row: 2;
    grid-column: 1 / -1;
    display: flex;
    border-left: var(--line) solid var(--rule);
    border-top: var(--line) solid var(--rule);
    forced-color-adjust: none;
  }
  .strip span {
    flex: 1 1 0;
    min-width: 0;
    min-height: 14px;
    line-height: 23px;
    text-align: center;
    white-space: nowrap;
    border-right: var(--line) solid var(--rule);
    border-bottom: var(--line) solid var(--rule);
  }
  .many .figure {
    flex: 0 0 28px;
  }
  .verdict {
    text-align: right;
  }
  .verdict.alike {
    border-left: 3px solid var(--warn);
    padding-left: var(--space-2);
  }
  @container (min-width: 620px) {
    .sight {
      grid-template-columns: 10.5rem minmax(0, 1fr) 13rem;
      padding: 1px 0;
    }
    .strip {
      grid-row: auto;
      grid-column: auto;
    }
    .verdict {
      text-align: left;
    }
  }

  .do {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: var(--space-2);
  }
  .do button,
  .take button {
    min-height: 32px;
    padding: 4px 12px;
    border: var(--line) solid var(--rule-2);
    border-radius: 2px;
    background: none;
  }
  .do button.main,
  .take button.main {
    color: var(--sheet);
    background: var(--ink);
    border-color: var(--ink);
  }
  .take {
    margin-top: var(--space-3);
  }
  .take label {
    display: block;
    margin-bottom: 2px;
  }
  .take .do {
    margin-top: var(--space-2);
  }
`;
