import { css } from "lit";

export const numberFieldStyles = css`
  :host {
    display: block;
    font: inherit;
    font-variant-numeric: tabular-nums;
    color: var(--fw-ink, #25221c);
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
    border: 1px solid var(--fw-rule-2, #b9ae98);
    border-radius: 0;
    background: var(--fw-paper, #f7f3ea);
  }
  input {
    width: var(--fw-number-width, 5rem);
    padding: 3px 6px;
    text-align: right;
    font-variant-numeric: inherit;
  }
  select {
    padding: 3px 2px;
    color: var(--fw-ink-2, #6a6355);
    background: none;
    border-color: transparent transparent var(--fw-rule-2, #b9ae98);
    max-width: 7rem;
  }
  option {
    color: var(--fw-ink, #25221c);
    background: var(--fw-sheet, #fffdf7);
  }
  input:focus-visible,
  select:focus-visible {
    outline: 2px solid var(--fw-focus, #25221c);
    outline-offset: 1px;
  }
  input[aria-invalid="true"] {
    border-color: var(--fw-warn, #8a5a00);
    box-shadow: inset 0 -2px 0 var(--fw-warn, #8a5a00);
  }
  input:disabled,
  input:read-only {
    color: var(--fw-ink-2, #6a6355);
    background: none;
  }
  .unit,
  .note {
    color: var(--fw-ink-2, #6a6355);
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
    border-left: 3px solid var(--fw-warn, #8a5a00);
    padding-left: 8px;
  }
`;
