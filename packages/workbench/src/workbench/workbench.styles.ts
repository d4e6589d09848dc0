import { css } from "lit";

export const workbenchStyles = css`
  :host {
    display: block;
    min-height: 100vh;
    background: var(--paper);
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 4px 18px;
    padding: 14px var(--space-5) 0;
  }
  h1 {
    font-size: var(--text-large);
    font-weight: 650;
    margin: 0;
    overflow-wrap: anywhere;
  }
  h1 small {
    font-weight: 400;
    color: var(--ink-2);
    font-size: 13px;
    margin-left: 8px;
  }
  .kept {
    margin-left: auto;
    color: var(--ink-2);
    font-size: 12.5px;
  }
  .kept strong {
    color: var(--warn);
    font-weight: 600;
  }
  .tools {
    display: flex;
    flex-wrap: wrap;
    gap: 2px 16px;
    padding: 4px var(--space-5) 0;
  }
  nav {
    display: flex;
    flex-wrap: wrap;
    gap: 0 var(--space-5);
    padding: 4px var(--space-5) 0;
    border-bottom: 1px solid var(--rule-2);
  }
  nav a {
    padding: 6px 0 8px;
    min-height: 24px;
    color: var(--ink-2);
    text-decoration: none;
  }
  nav a:hover {
    color: var(--ink);
  }
  nav a[aria-current] {
    color: var(--ink);
    font-weight: 600;
    box-shadow: inset 0 -3px 0 var(--ink);
  }
  @media (forced-colors: active) {
    /* Shadows are not drawn there. */
    nav a[aria-current] {
      border-bottom: 3px solid Highlight;
    }
  }
  nav .end {
    margin-left: auto;
    display: flex;
    flex-wrap: wrap;
    gap: 0 14px;
    align-items: center;
  }
  .told {
    min-height: 30px;
    padding: 6px var(--space-5) 0;
    font-size: 12.5px;
    color: var(--ink-2);
    overflow-wrap: anywhere;
  }
  .told.refused {
    color: var(--ink);
  }
  .told.refused::before {
    content: "Not done. ";
    font-weight: 650;
    color: var(--warn);
  }
  .offer {
    margin: -24px 0 0;
    padding: 0 var(--space-5);
    font-size: 12.5px;
  }
  .offer button {
    margin-left: var(--space-2);
  }
  fw-first-job {
    margin: 0 var(--space-5);
  }
  main {
    padding: 4px var(--space-5) var(--space-5);
  }
  footer {
    padding: 0 var(--space-5) var(--space-5);
    color: var(--ink-2);
    font-size: 12px;
  }
  .bar {
    margin: 8px var(--space-5) 0;
    padding: 6px 10px;
    border: 1px solid var(--warn);
    font-size: 13px;
    display: flex;
    flex-wrap: wrap;
    gap: 4px 14px;
    align-items: baseline;
  }
  dl.keys {
    display: grid;
    grid-template-columns: auto 1fr;
    gap: 4px 16px;
    font-size: 13px;
  }
  dl.keys dd {
    margin: 0;
    color: var(--ink-2);
  }
  @media (max-width: 560px) {
    header,
    .tools,
    nav,
    .told,
    .offer,
    main,
    footer {
      padding-left: 12px;
      padding-right: 12px;
    }
    fw-first-job {
      margin: 0 12px;
    }
    .kept {
      margin-left: 0;
    }
    nav {
      gap: 0 14px;
    }
  }
  @media print {
    header,
    nav,
    .tools,
    .told,
    .offer,
    fw-first-job,
    .bar,
    footer {
      display: none;
    }
    :host {
      background: white;
    }
    main {
      padding: 0;
    }
  }
`;
