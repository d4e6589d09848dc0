import { css } from "lit";

export const helpTipStyles = css`
  :host {
    display: inline-block;
    font: var(--text) / 1.45 var(--font);
    color: var(--ink);
  }
  :host([hidden]) {
    display: none;
  }
  button[part] {
    font: inherit;
    font-size: 13px;
    line-height: 24px;
    width: 24px;
    height: 24px;
    /* The line of text around it keeps its height. */
    margin: -4px 0;
    padding: 0;
    color: var(--ink-2);
    background: none;
    border: 0;
    cursor: help;
    text-decoration: underline dotted;
    text-underline-offset: 3px;
  }
  .term {
    font: inherit;
    font-size: 13px;
    min-height: 24px;
    margin-top: var(--space-1);
    padding: 0;
    color: var(--ink);
    background: none;
    border: 0;
    cursor: pointer;
    text-decoration: underline;
    text-underline-offset: 3px;
  }
  button[part]:hover,
  button[aria-expanded="true"] {
    color: var(--ink);
    text-decoration-style: solid;
  }
  button:focus-visible {
    outline: var(--line-2) solid var(--focus);
    outline-offset: -1px;
  }
  [popover] {
    position: fixed;
    inset: auto;
    box-sizing: border-box;
    margin: 0;
    padding: var(--space-2) var(--space-3);
    color: var(--ink);
    background: var(--sheet);
    border: var(--line) solid var(--ink);
    font-size: 13px;
    text-align: left;
    overflow-wrap: anywhere;
  }
  p {
    margin: 0;
  }
  .source {
    margin-top: var(--space-1);
    font-size: var(--text-small);
    color: var(--ink-2);
  }
  @media print {
    :host {
      display: none;
    }
  }
`;
