import { css } from "lit";

export const evidenceLeafStyles = css`
  .leaf {
    display: grid;
    grid-template-columns: minmax(0, 1fr) 312px;
    gap: var(--space-4) var(--space-5);
    align-items: start;
  }
  .board {
    min-width: 0;
  }
  .board > * + * {
    margin-top: var(--space-4);
  }
  .over {
    outline: 2px dashed var(--ink);
    outline-offset: 4px;
  }
  .do label.row {
    margin: 0;
  }
  .do + :is(p, table, .warns) {
    margin-top: var(--space-3);
  }
  .drop {
    margin: var(--space-4) 0 var(--space-2);
    border: 1px dashed var(--rule-2);
    padding: 22px 16px;
    max-width: 74ch;
  }
  .logs,
  .gates {
    list-style: none;
    margin: var(--space-4) 0 0;
    padding: 0;
    font-size: 13px;
  }
  .logs li {
    border-top: 1px solid var(--rule);
    padding: 8px 0;
  }
  .log {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 14px;
    align-items: baseline;
    overflow-wrap: anywhere;
  }
  .end {
    margin-left: auto;
    display: flex;
    flex-wrap: wrap;
    gap: 2px 14px;
    align-items: baseline;
  }
  .work {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 12px;
    align-items: center;
    margin: 6px 0;
    font-size: 13px;
  }
  progress {
    width: 200px;
    max-width: 100%;
    accent-color: var(--ink);
  }
  summary {
    cursor: pointer;
    min-height: 24px;
    width: max-content;
    line-height: 24px;
  }
  .wide {
    overflow-x: auto;
  }
  td,
  th {
    padding: 2px 0;
    vertical-align: baseline;
  }
  td + td,
  th + td,
  th + th {
    padding-left: 14px;
  }
  .columns {
    min-width: 520px;
  }
  .columns th[scope="row"] {
    font-weight: 400;
    overflow-wrap: break-word;
    min-width: 110px;
  }
  .another {
    display: flex;
    flex-wrap: wrap;
    gap: 6px 10px;
    align-items: baseline;
    margin-top: 8px;
  }
  .gates li {
    border-top: 1px solid var(--rule);
    padding: 2px 0;
  }
  .gates p {
    margin: 2px 0 4px;
  }
  .gates fw-number-field {
    margin: 3px 0;
    --fw-number-unit-width: 34px;
    --fw-number-width: 64px;
  }
  .gate {
    display: flex;
    align-items: baseline;
    gap: 2px;
  }
  .gate > input {
    flex: none;
  }
  .gate details {
    flex: 1;
    min-width: 0;
  }
  .gate summary {
    display: flex;
    width: auto;
    gap: 8px;
    justify-content: space-between;
    align-items: baseline;
    line-height: 1.35;
    padding: 3px 0;
  }
  .gate summary > span:first-child {
    text-decoration: underline;
    text-decoration-color: var(--rule-2);
    text-underline-offset: 3px;
  }
  .removes {
    position: relative;
    flex: none;
    width: 84px;
    text-align: right;
    padding-bottom: 2px;
  }
  .removes i {
    position: absolute;
    right: 0;
    bottom: -1px;
    height: 2px;
    background: var(--ink-2);
  }
  .hidden {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
  }
  div.beside {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(320px, 100%), 1fr));
    gap: var(--space-3) var(--space-5);
    align-items: start;
    margin-top: var(--space-2);
  }
  .facts th {
    font-weight: 400;
    color: var(--ink-2);
  }
  .facts td {
    white-space: nowrap;
  }
  .facts td.quiet {
    white-space: normal;
  }
  .stages {
    padding-left: 26px;
    font-size: 13px;
    max-width: 74ch;
  }
  .stages li {
    padding: 3px 0;
  }
  .high {
    color: var(--warn);
    font-weight: 600;
  }
  @media (max-width: 900px) {
    .leaf {
      grid-template-columns: minmax(0, 1fr);
    }
  }
  @media print {
    .leaf {
      display: block;
    }
    button,
    .do,
    :host([printing="ride"]) .leaf :is(section, fw-evidence-result, fw-log-trace):not(.board, .ride),
    :host([printing="ride"]) :is(aside, .board > p, .work) {
      display: none;
    }
  }
`;
