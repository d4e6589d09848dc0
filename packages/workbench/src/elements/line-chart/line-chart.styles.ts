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
