import { css } from "lit";

export const numberFieldStyles = css`
  :host {
    display: block;
    font: inherit;
    font-variant-numeric: tabular-nums;
    color: var(--ink);
  }
  :host([hidden]) {
    display: none;
  }
  .line {
    display: grid;
    grid-template-columns: minmax(0, 1fr) auto minmax(var(--fw-number-unit-width, 4.75rem), auto);
    column-gap: 8px;
    align-items: baseline;
  }
  .name {
    display: flex;
    align-items: baseline;
    gap: 6px;
  }
  label {
    overflow-wrap: anywhere;
  }
  input,
  select {
    font: inherit;
    font-size: 13px;
    box-sizing: border-box;
    min-height: 28px;
    color: inherit;
    border: 1px solid var(--rule-2);
    border-radius: 0;
    background: var(--paper);
  }
  input {
    width: var(--fw-number-width, 5rem);
    padding: 3px 6px;
    text-align: right;
    font-variant-numeric: inherit;
  }
  select {
    padding: 3px 0;
    margin-left: -4px;
    color: var(--ink-2);
    background: none;
    border-color: transparent transparent var(--rule-2);
    max-width: 7rem;
  }
  option {
    color: var(--ink);
    background: var(--sheet);
  }
  input:focus-visible,
  select:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 1px;
  }
  input[aria-invalid="true"] {
    border-color: var(--warn);
    box-shadow: inset 0 -2px 0 var(--warn);
  }
  input:disabled,
  input:read-only {
    color: var(--ink-2);
    background: none;
  }
  .unit,
  .note {
    color: var(--ink-2);
    font-size: 12px;
  }
  .note,
  .error,
  .unusual {
    margin: 2px 0 0;
    font-size: 12px;
    line-height: 1.4;
  }
  .error,
  .unusual {
    border-left: 3px solid var(--warn);
    padding-left: 8px;
  }
`;
