import { css } from "lit";

export const sliceChartStyles = css`
  :host {
    display: block;
    position: relative;
    min-height: 60px;
    color: var(--ink);
    font: 10.5px/1.3 var(--font);
    font-variant-numeric: tabular-nums;
  }
  :host([along="load"]) {
    min-height: 0;
    min-width: 60px;
  }
  :host([hidden]) {
    display: none;
  }
  .frame {
    height: 100%;
  }
  :host([along="load"]) .frame {
    display: flex;
    flex-direction: column;
    justify-content: flex-end;
  }
  svg {
    display: block;
    position: absolute;
    inset: 0;
    width: 100%;
    height: 100%;
    overflow: visible;
  }
  .words {
    position: sticky;
    display: block;
    width: max-content;
    color: var(--ink-2);
    left: calc(var(--heads-width, 0px) + 6px);
    padding: 3px 4px 0;
    background: color-mix(in srgb, var(--sheet) 80%, transparent);
    z-index: 1;
  }
  :host([along="load"]) .words {
    position: sticky;
    left: auto;
    bottom: calc(var(--heads-height, 0px) + var(--under, 0px));
    margin-left: auto;
    padding: 0 6px 2px;
    text-align: right;
  }
  /* Where load runs downward the room is at the top. */
  :host([along="load"][flip]) .frame {
    justify-content: flex-start;
  }
  :host([along="load"][flip]) .words {
    bottom: auto;
    top: 0;
  }
`;
