import { css } from "lit";

export const logTraceStyles = css`
  :host {
    display: block;
    color: var(--ink);
    font: 11px/1.35 var(--font);
    font-variant-numeric: tabular-nums;
  }
  .plot {
    position: relative;
    margin-top: 6px;
    touch-action: pan-y;
    cursor: crosshair;
  }
  canvas {
    display: block;
    width: 100%;
  }
  .plot:focus-visible,
  button:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 14px;
    align-items: center;
    font-size: 12px;
    color: var(--ink-2);
    margin-top: 4px;
  }
  .tools button {
    font: inherit;
    min-height: 26px;
    border: 0;
    padding: 2px 0;
    background: none;
    color: var(--ink);
    cursor: pointer;
    text-decoration: underline;
    text-decoration-color: var(--rule-2);
    text-underline-offset: 3px;
  }
  .tools button:disabled {
    color: var(--ink-2);
    text-decoration: none;
    cursor: default;
  }
  .read {
    display: flex;
    flex-wrap: wrap;
    gap: 0 18px;
    min-height: 18px;
    font-size: 12px;
    color: var(--ink-2);
  }
  .read b {
    font-weight: 600;
    color: var(--ink);
  }
  fw-number-field {
    font-size: 12px;
    --fw-number-width: 66px;
  }
  @media print {
    .tools {
      display: none;
    }
  }
`;
