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
  .figures:is(.stages, .places) td {
    white-space: normal;
  }
  @media (max-width: 360px) {
    .figures:not(.wide) :is(th, td) {
      padding-right: 6px;
      white-space: normal;
      overflow-wrap: anywhere;
    }
  }
  .figures.wide {
    width: 100%;
  }
  .numbers :is(td, thead th):not(:first-child) {
    text-align: right;
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
  @media print {
    .stamp.gives-out,
    button.stamp.gives-out {
      background: none;
      color: var(--ink);
      border: var(--line-2) solid;
    }
  }
`;
