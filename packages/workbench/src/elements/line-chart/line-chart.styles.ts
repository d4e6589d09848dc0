import { css } from "lit";

export const lineChartStyles = css`
  :host {
    display: block;
    color: var(--ink);
    font: 11px/1.35 var(--font);
    font-variant-numeric: tabular-nums;
  }
  :host([hidden]) {
    display: none;
  }
  figure {
    margin: 0;
  }
  figcaption {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 var(--space-3);
    min-height: 16px;
    font-size: var(--text-small);
  }
  .name {
    font-weight: 600;
    margin-right: auto;
  }
  .name span {
    font-weight: 400;
    color: var(--ink-2);
  }
  .key {
    display: inline-flex;
    align-items: center;
    gap: 5px;
    color: var(--ink-2);
  }
  .key b {
    font-weight: 600;
    color: var(--ink);
  }
  .key svg {
    width: 22px;
    height: 8px;
    flex: none;
    overflow: visible;
  }
  .plot {
    position: relative;
    height: var(--fw-chart-height, 150px);
  }
  .plot svg {
    display: block;
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    overflow: visible;
  }
  .choosable {
    cursor: crosshair;
    touch-action: pan-y;
  }
  .look {
    fill: none;
    stroke: var(--ink);
    stroke-width: 1.8;
    stroke-linejoin: round;
  }
  .dashed {
    stroke-width: 1.6;
    stroke-dasharray: 6 4;
  }
  .dotted {
    stroke-width: 1.8;
    stroke-linecap: round;
    stroke-dasharray: 0.1 4.5;
  }
  .thin {
    stroke: var(--ink-2);
    stroke-width: 1;
  }
  .dots {
    stroke-width: 4;
    stroke-linecap: round;
  }
  .more {
    stroke: var(--more);
  }
  .less {
    stroke: var(--less);
  }
  .warn {
    stroke: var(--warn);
  }
  .axis {
    stroke: var(--rule-2);
  }
  .grid {
    stroke: var(--rule);
  }
  .rule {
    stroke: var(--ink-2);
    stroke-dasharray: 2 3;
  }
  .mark {
    stroke: var(--ink);
  }
  .dot {
    fill: var(--ink);
    stroke: var(--fw-chart-ground, var(--sheet));
    stroke-width: 1.5;
  }
  .hatch {
    stroke: var(--rule-2);
  }
  text {
    fill: var(--ink-2);
  }
  text.say {
    fill: var(--ink);
    paint-order: stroke;
    stroke: var(--fw-chart-ground, var(--sheet));
    stroke-width: 3px;
    stroke-linejoin: round;
  }
  details {
    color: var(--ink-2);
  }
  summary {
    width: max-content;
    min-height: 24px;
    line-height: 24px;
    cursor: pointer;
  }
  :is(summary, .scroll):focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  .scroll {
    max-height: 240px;
    overflow: auto;
  }
  table {
    border-collapse: collapse;
    color: var(--ink);
  }
  th {
    font-weight: 600;
    text-align: right;
    vertical-align: bottom;
  }
  :is(td, th) {
    padding: 1px 0 1px var(--space-4);
    text-align: right;
  }
  :is(td, th):first-child {
    padding-left: 0;
  }
  tr[aria-current] {
    font-weight: 600;
  }
  @media print {
    :host {
      color-scheme: light;
    }
    details:not([open]) {
      display: none;
    }
  }
`;
