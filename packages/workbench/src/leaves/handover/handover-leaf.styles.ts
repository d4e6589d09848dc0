import { css } from "lit";

export const handoverStyles = css`
  .columns {
    display: grid;
    grid-template-columns: minmax(280px, 340px) minmax(0, 1fr);
    gap: var(--space-4) var(--space-5);
    align-items: start;
  }
  .exports > * + * {
    margin-top: var(--space-4);
  }
  .exports fw-table-export {
    display: block;
  }
  .handover-card {
    max-width: 880px;
    padding: 22px 26px 30px;
  }
  .empty {
    max-width: 60ch;
  }
  .after {
    margin: 8px 0 0;
  }
  summary {
    cursor: pointer;
    min-height: 24px;
  }
  summary h2 {
    display: inline;
  }
  .files {
    list-style: none;
    margin: 0;
    padding: 0;
    font-size: 13px;
  }
  .files li {
    display: flex;
    align-items: center;
    gap: 6px;
    padding: 3px 0;
    border-top: 1px solid var(--rule);
  }
  .files span {
    flex: 1;
  }
  .files button {
    padding: 2px 8px;
    min-height: 26px;
  }
  @media (max-width: 900px) {
    .columns {
      grid-template-columns: minmax(0, 1fr);
    }
    .handover-card {
      padding: 14px 14px 22px;
    }
  }
  @media print {
    .exports {
      display: none;
    }
    .columns {
      display: block;
    }
    .handover-card {
      border: 0;
      padding: 0;
      max-width: none;
      break-inside: auto;
    }
  }
`;
