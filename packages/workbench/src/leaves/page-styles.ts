import { css } from "lit";

/** What all leaves share: sheets, headings, buttons, fields in a row, sentences that warn. */
export const pageStyles = css`
  :host {
    display: block;
    color: var(--ink);
    font-variant-numeric: tabular-nums;
  }
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  :is(h1, h2)[tabindex="-1"]:focus {
    outline: none;
  }
  h2 {
    font-size: var(--text);
    font-weight: 650;
    margin: 0 0 2px;
  }
  h3 {
    font-size: 13px;
    font-weight: 650;
    margin: var(--space-4) 0 var(--space-1);
  }
  p {
    margin: 0 0 var(--space-3);
  }
  .quiet {
    color: var(--ink-2);
    font-size: 12.5px;
  }
  .sheet {
    background: var(--sheet);
    border: 1px solid var(--rule-2);
    padding: 14px 16px 16px;
  }
  .sheet + .sheet {
    margin-top: var(--space-4);
  }
  button,
  .button {
    font: inherit;
    font-size: 13px;
    min-height: 30px;
    padding: 4px 12px;
    border: 1px solid var(--rule-2);
    background: none;
    color: var(--ink);
    border-radius: 2px;
    cursor: pointer;
  }
  button.main {
    background: var(--ink);
    border-color: var(--ink);
    color: var(--sheet);
  }
  button:disabled {
    color: var(--ink-2);
    border-style: dashed;
    cursor: default;
  }
  button.main:disabled {
    background: none;
  }
  button.word {
    border: 0;
    padding: 2px 0;
    min-height: 26px;
    text-align: left;
    text-decoration: underline;
    text-decoration-color: var(--rule-2);
    text-underline-offset: 3px;
  }
  button.word:hover {
    text-decoration-color: currentColor;
  }
  :is(button, a, input, select, textarea, summary, [tabindex="0"]):focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  input,
  select,
  textarea {
    font: inherit;
    font-size: 13px;
    color: var(--ink);
    background: var(--paper);
    border: 1px solid var(--rule-2);
    border-radius: 0;
    padding: 4px 6px;
    min-height: 28px;
    max-width: 100%;
  }
  textarea {
    display: block;
    width: 100%;
    resize: vertical;
  }
  input[type="range"] {
    accent-color: var(--ink);
    background: none;
    border: 0;
    padding: 0;
  }
  input[type="checkbox"],
  input[type="radio"] {
    accent-color: var(--ink);
    min-height: 0;
    width: 15px;
    height: 15px;
    margin: 0 6px 0 0;
    vertical-align: -2px;
  }
  label.row,
  .row {
    display: flex;
    justify-content: space-between;
    align-items: baseline;
    gap: var(--space-2);
    margin: 7px 0;
    font-size: 13px;
  }
  .row > :is(input, select) {
    min-width: 0;
  }
  /* A label with its help behind it keeps both on a line; what is chosen gives way. */
  .row > .named {
    flex: 0 0 auto;
    max-width: 62%;
  }
  .explained {
    display: flex;
    gap: var(--space-1);
    align-items: baseline;
  }
  label.check {
    display: block;
    font-size: 13px;
    margin: 7px 0;
    min-height: 24px;
  }
  .do {
    display: flex;
    flex-wrap: wrap;
    gap: var(--space-2);
    margin-top: var(--space-4);
  }
  .warns {
    border-left: 3px solid var(--warn);
    padding: 2px 0 2px 10px;
    margin: var(--space-3) 0;
    font-size: 12.5px;
  }
  .refuses {
    border-left: 3px solid var(--ink);
    padding: 2px 0 2px 10px;
    margin: var(--space-3) 0;
    font-size: 12.5px;
  }
  fw-number-field {
    display: block;
    margin: 7px 0;
    font-size: 13px;
    --fw-number-width: 74px;
    --fw-number-unit-width: 70px;
  }
  th + th {
    padding-left: var(--space-3);
  }
  table {
    border-collapse: collapse;
    font-size: 13px;
  }
  th {
    font-weight: 600;
    text-align: left;
  }
  dialog {
    background: var(--sheet);
    color: var(--ink);
    border: 1px solid var(--rule-2);
    padding: var(--space-5);
    max-width: min(92vw, 900px);
    max-height: 90vh;
  }
  dialog::backdrop {
    background: color-mix(in srgb, var(--paper) 70%, transparent);
  }
  @media (forced-colors: active) {
    button:disabled,
    input:disabled,
    select:disabled {
      color: GrayText;
      border-color: GrayText;
    }
  }
  @media print {
    .sheet {
      border-color: #999;
      break-inside: avoid;
    }
  }
`;
