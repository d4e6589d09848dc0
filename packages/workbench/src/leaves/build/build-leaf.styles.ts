import { css } from "lit";

/** The leaf itself: the parts list, and the tools under it. */
export const leafStyles = css`
  fw-number-field {
    --fw-number-unit-width: 80px;
  }
  .top > :only-child {
    grid-column: 1 / -1;
  }
  .top {
    display: grid;
    grid-template-columns: minmax(0, 13fr) minmax(320px, 7fr);
    gap: var(--space-4);
    align-items: start;
  }
  .sheet + .sheet {
    margin-top: 0;
  }
  .asked {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--space-5);
    align-items: baseline;
    margin-bottom: var(--space-2);
  }
  .asked p {
    margin: 4px 0;
    flex: 1 1 260px;
  }
  .asked label.row {
    justify-content: flex-start;
  }
  .part {
    border-top: 1px solid var(--rule);
  }
  .line {
    display: grid;
    grid-template-columns: minmax(130px, 2fr) minmax(150px, 3fr) minmax(210px, 4fr);
    gap: 2px var(--space-4);
    align-items: baseline;
    padding: 9px 0;
    font-size: 13px;
  }
  .line h2 {
    margin: 0;
  }
  button.opens {
    display: inline-flex;
    align-items: baseline;
    border: 0;
    padding: 0;
    min-height: 24px;
    font-size: var(--text);
    font-weight: 650;
    text-align: left;
  }
  button.opens::before {
    content: "";
    flex: none;
    width: 6px;
    height: 6px;
    align-self: flex-start;
    margin: 7px 9px 0 1px;
    border-right: 1.5px solid var(--ink-2);
    border-bottom: 1.5px solid var(--ink-2);
    transform: rotate(-45deg);
  }
  button.opens[aria-expanded="true"]::before {
    transform: rotate(45deg);
    margin-top: 6px;
  }
  button.opens:hover {
    text-decoration: underline;
    text-underline-offset: 3px;
  }
  .what {
    color: var(--ink-2);
    overflow-wrap: anywhere;
  }
  .why {
    display: block;
    color: var(--ink-2);
    font-size: 12.5px;
    margin-top: 1px;
  }
  .body {
    padding: 2px 0 var(--space-4) 17px;
  }
  .fields {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(290px, 100%), 1fr));
    gap: var(--space-3) var(--space-6);
    align-items: start;
  }
  .aside {
    margin: 7px 0;
  }
  .points input {
    width: 78px;
  }
  .words {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--space-3);
  }
  .meant {
    margin-top: -4px;
  }
  .lean {
    border: 2px solid var(--warn);
    border-left-width: 8px;
    background: var(--sheet);
    padding: 12px 16px 14px;
    margin-bottom: var(--space-4);
  }
  .lean h2 {
    font-size: var(--text-large);
  }
  .lean p {
    margin: 4px 0 var(--space-2);
    max-width: 80ch;
  }
  .charts {
    display: grid;
    gap: var(--space-3);
  }
  .across {
    margin-top: var(--space-4);
  }
  .tools {
    columns: 3 460px;
    column-gap: var(--space-4);
    margin-top: var(--space-4);
  }
  .tools .sheet {
    break-inside: avoid;
    margin-bottom: var(--space-4);
  }
  .stage {
    border-top: 1px solid var(--rule);
  }
  .stage .line {
    grid-template-columns: minmax(0, 1fr) auto;
  }
  label.row.short {
    justify-content: flex-start;
    font-weight: 400;
  }
  @media (max-width: 1100px) {
    .top {
      grid-template-columns: minmax(0, 1fr);
    }
    .charts {
      grid-template-columns: repeat(auto-fit, minmax(min(260px, 100%), 1fr));
    }
  }
  @media (max-width: 540px) {
    .tools {
      columns: auto;
    }
  }
  @media (max-width: 620px) {
    .line {
      grid-template-columns: minmax(0, 1fr);
      gap: 1px;
    }
    .part .line > :not(h2) {
      padding-left: 17px;
    }
    .body {
      padding-left: 0;
    }
    .sheet {
      padding: 12px;
    }
  }
  @media print {
    .top,
    .tools {
      display: block;
      columns: auto;
    }
    button:not(.opens, .stamp) {
      display: none;
    }
  }
`;
