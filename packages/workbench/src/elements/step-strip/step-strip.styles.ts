import { css } from "lit";

export const stepStripStyles = css`
  :host {
    display: block;
    background: var(--sheet);
    border: 1px solid var(--rule-2);
    color: var(--ink);
    font-variant-numeric: tabular-nums;
  }
  ol {
    display: flex;
    list-style: none;
    margin: 0;
    padding: 0;
    overflow-x: auto;
    scrollbar-width: thin;
  }
  li {
    position: relative;
    flex: none;
    border-right: 1px dashed var(--rule-2);
    display: flex;
  }
  .step {
    display: flex;
    flex-direction: column;
    justify-content: flex-start;
    min-width: 132px;
    max-width: 240px;
    text-align: left;
    font: inherit;
    font-size: 12.5px;
    line-height: 1.4;
    color: inherit;
    background: none;
    border: 0;
    padding: 9px 36px 10px 14px;
    cursor: pointer;
  }
  div.step {
    cursor: default;
  }
  .step b {
    display: block;
    font-size: 13px;
    font-weight: 600;
  }
  .step span {
    display: block;
    color: var(--ink-2);
    overflow-wrap: anywhere;
  }
  .step em {
    font-style: normal;
    font-weight: 600;
    color: var(--warn);
  }
  .step .note {
    font-style: italic;
  }
  .step .guess,
  .step .name {
    color: var(--ink);
  }
  .open {
    background: color-mix(in srgb, var(--ink) 7%, transparent);
  }
  @media (forced-colors: active) {
    .open {
      outline: 2px solid Highlight;
      outline-offset: -3px;
    }
  }
  .off b {
    text-decoration: line-through;
    color: var(--ink-2);
  }
  .switch {
    position: absolute;
    top: 4px;
    right: 4px;
    width: 26px;
    height: 26px;
    display: grid;
    place-items: center;
  }
  .switch input {
    accent-color: var(--ink);
    width: 15px;
    height: 15px;
    margin: 0;
  }
  button.step:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: -3px;
  }
`;
