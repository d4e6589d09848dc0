import { css } from "lit";

export const whatIfStyles = css`
  .experiments {
    display: flex;
    flex-wrap: wrap;
    gap: 2px var(--space-5);
    margin-bottom: var(--space-4);
  }
  .experiments button {
    border: 0;
    border-bottom: 2px solid transparent;
    padding: 2px 0;
    color: var(--ink-2);
  }
  .experiments button[aria-current] {
    color: var(--ink);
    font-weight: 600;
    border-bottom-color: var(--ink);
  }
  .bench {
    display: grid;
    grid-template-columns: 300px minmax(0, 1fr);
    gap: var(--space-4) var(--space-5);
    align-items: start;
  }
  .bench > * {
    min-width: 0;
  }
  .set {
    position: sticky;
    top: var(--space-3);
  }
  .set h2 {
    margin-bottom: var(--space-2);
  }
  .set hr {
    border: 0;
    border-top: 1px solid var(--rule);
    margin: var(--space-3) 0;
  }
  .set select {
    max-width: 150px;
  }
  .set fw-number-field {
    margin: 4px 0 0;
  }
  .slide {
    display: grid;
    gap: 3px;
    margin: 9px 0 4px;
  }
  input[type="range"] {
    display: block;
    width: 100%;
    height: 24px;
    min-height: 24px;
    margin: 0;
    padding: 0;
    border: 0;
    background: none;
    accent-color: var(--ink);
    appearance: none;
    cursor: pointer;
  }
  input[type="range"]:focus-visible {
    outline-offset: -1px;
  }
  input[type="range"]::-webkit-slider-runnable-track {
    height: 2px;
    background: var(--rule-2);
  }
  input[type="range"]::-moz-range-track {
    height: 2px;
    background: var(--rule-2);
  }
  input[type="range"]::-webkit-slider-thumb {
    appearance: none;
    width: 10px;
    height: 18px;
    margin-top: -8px;
    background: var(--ink);
    border: 0;
    border-radius: 1px;
  }
  input[type="range"]::-moz-range-thumb {
    width: 10px;
    height: 18px;
    background: var(--ink);
    border: 0;
    border-radius: 1px;
  }
  @media (forced-colors: active) {
    input[type="range"] {
      appearance: auto;
    }
  }
  .figures {
    display: grid;
    grid-template-columns: repeat(auto-fill, minmax(min(240px, 44%), 1fr));
    gap: 8px var(--space-4);
    margin: 0 0 var(--space-4);
    font-size: 13px;
  }
  .figures.many {
    grid-template-columns: repeat(auto-fill, minmax(min(190px, 44%), 1fr));
  }
  dt {
    color: var(--ink-2);
    font-size: 12.5px;
  }
  dd {
    margin: 0;
  }
  dd b {
    font-weight: 600;
    font-size: 15px;
  }
  dd span {
    color: var(--ink-2);
    font-size: 12.5px;
    white-space: nowrap;
  }
  .bench {
    --fw-chart-ground: var(--paper);
  }
  .bench .sheet {
    --fw-chart-ground: var(--sheet);
  }
  .charts > fw-line-chart + fw-line-chart {
    margin-top: var(--space-2);
  }
  .pair {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(280px, 100%), 1fr));
    gap: var(--space-4) var(--space-5);
    margin-top: var(--space-4);
  }
  .whys {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(270px, 100%), 1fr));
    gap: 0 var(--space-5);
    margin-top: var(--space-4);
    border-top: 1px solid var(--rule);
  }
  .whys.four {
    grid-template-columns: repeat(auto-fit, minmax(min(380px, 100%), 1fr));
  }
  .why p {
    margin-bottom: 6px;
    font-size: 13px;
    max-width: 68ch;
  }
  .why .quiet {
    font-size: 12px;
  }
  .verdict {
    border-left: 3px solid var(--rule-2);
    padding: 2px 0 2px 10px;
    margin: 0 0 var(--space-4);
    font-size: 13px;
    max-width: 76ch;
  }
  .verdict p {
    margin: 0 0 4px;
  }
  .scroll {
    overflow-x: auto;
  }
  .scroll td,
  .scroll th {
    padding: 4px 0 4px var(--space-4);
    text-align: right;
    border-top: 1px solid var(--rule);
    white-space: nowrap;
  }
  .scroll thead :is(th, td) {
    border-top: 0;
    vertical-align: bottom;
    white-space: normal;
  }
  .scroll :is(td, th):first-child {
    padding-left: 0;
    text-align: left;
    white-space: normal;
    min-width: 130px;
  }
  .scroll tbody th {
    font-weight: 400;
    color: var(--ink-2);
  }
  .scroll tr.main td {
    font-weight: 600;
  }
  .scroll:focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
  }
  details > summary {
    min-height: 24px;
    line-height: 24px;
    cursor: pointer;
  }
  .questions {
    display: grid;
    grid-template-columns: repeat(auto-fit, minmax(min(440px, 100%), 1fr));
    gap: 0 var(--space-6);
  }
  .question {
    border-top: 1px solid var(--rule);
    padding: var(--space-3) 0 var(--space-3);
  }
  .question h3 {
    margin: 0 0 6px;
    max-width: 70ch;
  }
  .question .do {
    margin: 0;
  }
  .question button[aria-pressed="true"] {
    border-color: var(--ink);
    font-weight: 600;
  }
  .question button.right {
    background: var(--ink);
    color: var(--sheet);
    border-color: var(--ink);
  }
  .question p {
    margin: 8px 0 0;
    font-size: 13px;
    max-width: 76ch;
  }
  .foot {
    margin-top: var(--space-4);
    max-width: 100ch;
  }
  @media (max-width: 860px) {
    .bench {
      grid-template-columns: minmax(0, 1fr);
    }
    .set {
      position: static;
    }
  }
  @media (max-height: 700px) {
    .set {
      position: static;
    }
  }
  @media print {
    .set {
      position: static;
    }
    .experiments {
      display: none;
    }
  }
`;
