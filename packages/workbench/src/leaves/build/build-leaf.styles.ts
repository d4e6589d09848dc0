import { css } from "lit";

/** What the Build leaf and its tools share. */
export const buildStyles = css`
  h3.first {
    margin-top: 0;
  }
  section:focus-visible {
    outline: 2px solid var(--focus);
  }
  .figures {
    font-variant-numeric: tabular-nums;
    margin: var(--space-2) 0;
  }
  .figures caption {
    text-align: left;
    font-size: 12.5px;
    color: var(--ink-2);
    padding-bottom: var(--space-1);
  }
  .figures :is(th, td) {
    padding: 3px 14px 3px 0;
    vertical-align: baseline;
    text-align: left;
  }
  .figures tbody th {
    font-weight: 400;
    color: var(--ink-2);
  }
  .figures td {
    white-space: nowrap;
  }
  .figures.stages td {
    white-space: normal;
  }
  .figures.wide {
    width: 100%;
  }
  .figures.wide :is(th, td):last-child {
    padding-right: 0;
  }
  .figures.wide thead :is(th, td) {
    border-bottom: 1px solid var(--rule);
  }
  .figures ul {
    margin: 0;
    padding-left: 16px;
  }
  .scroll {
    overflow-x: auto;
  }
  .scroll:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  .stages {
    min-width: 560px;
  }
  .stages thead small {
    display: block;
    font-weight: 400;
    font-size: 12px;
    color: var(--ink-2);
  }
  .stages :is(th, td) {
    max-width: 280px;
  }
  .rests {
    list-style: none;
    margin: var(--space-2) 0;
    padding: 0;
    font-size: 12.5px;
    color: var(--ink-2);
  }
  .rests li {
    margin-bottom: 3px;
    max-width: 90ch;
  }
  .rests em {
    font-style: normal;
    color: var(--ink);
  }
  .leaner,
  .short {
    color: var(--ink);
    font-weight: 600;
  }
  .needs {
    margin: var(--space-2) 0;
    font-size: 13px;
  }
  .needs dt {
    font-weight: 600;
    margin-top: var(--space-2);
  }
  .needs dt span {
    font-weight: 400;
    color: var(--ink-2);
  }
  .needs dt .short {
    font-weight: 600;
    color: var(--ink);
    border-bottom: 2px solid var(--warn);
  }
  .needs dd {
    margin: 2px 0 0;
  }
  .stamp {
    font-weight: 600;
  }
  button.stamp {
    border: 0;
    min-height: 24px;
    padding: 0;
    text-align: left;
    text-decoration: underline;
    text-decoration-color: var(--rule-2);
    text-underline-offset: 3px;
  }
  button.stamp:hover {
    text-decoration-color: currentColor;
  }
  .stamp.at-limit,
  button.stamp.at-limit {
    text-decoration: underline var(--line-2) var(--warn);
    text-underline-offset: 3px;
  }
  .stamp.gives-out,
  button.stamp.gives-out {
    background: var(--ink);
    color: var(--sheet);
    padding: 1px 7px;
  }
  .stamp.unknown {
    font-weight: 400;
    color: var(--ink-2);
  }
`;

/** The leaf itself: the parts list, and the tools under it. */
export const leafStyles = css`
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
    border: 0;
    padding: 0;
    min-height: 24px;
    font-size: var(--text);
    font-weight: 650;
    text-align: left;
  }
  button.opens::before {
    content: "";
    display: inline-block;
    width: 6px;
    height: 6px;
    margin: 0 9px 2px 1px;
    border-right: 1.5px solid var(--ink-2);
    border-bottom: 1.5px solid var(--ink-2);
    transform: rotate(-45deg);
  }
  button.opens[aria-expanded="true"]::before {
    transform: rotate(45deg);
    margin-bottom: 4px;
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
    columns: 3 400px;
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
  @media (max-width: 470px) {
    .tools {
      columns: auto;
    }
  }
  @media (max-width: 620px) {
    .line {
      grid-template-columns: minmax(0, 1fr);
      gap: 1px;
    }
    .line > :not(h2) {
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
    .asked select,
    .words {
      display: none;
    }
  }
`;
