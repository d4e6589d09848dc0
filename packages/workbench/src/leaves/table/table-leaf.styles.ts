import { css } from "lit";

export const tableLeafStyles = css`
  .leaf {
    display: grid;
    grid-template-columns: minmax(0, 1fr) 312px;
    gap: var(--space-4) var(--space-5);
    align-items: start;
  }
  .board {
    min-width: 0;
  }
  fw-step-strip {
    margin-top: var(--space-4);
  }
  .line {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 16px;
    align-items: baseline;
    margin-bottom: 10px;
  }
  .line .which {
    font-size: 15px;
    font-weight: 600;
    border-color: transparent;
    background: none;
    margin-left: -6px;
    max-width: min(420px, 80vw);
  }
  .line .which:hover,
  .line .which:focus {
    border-color: var(--rule-2);
  }
  .legend {
    margin-left: auto;
    display: flex;
    gap: 4px 12px;
    align-items: center;
    white-space: nowrap;
  }
  fw-change-legend {
    flex: none;
    min-width: max-content;
    --fw-legend-bar: 120px;
  }
  .hidden {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
  }
  .read {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 26px;
    margin-top: 10px;
    font-size: 13px;
    align-items: baseline;
    min-height: 22px;
  }
  .read span {
    color: var(--ink-2);
  }
  .read b {
    font-weight: 600;
  }
  .under {
    display: flex;
    flex-wrap: wrap;
    gap: 4px 20px;
    align-items: start;
    margin-top: 4px;
  }
  .zoom {
    display: flex;
    gap: 14px;
    margin-left: auto;
    align-items: start;
  }
  fw-table-map {
    width: 132px;
  }
  .ceilings {
    flex: 1 1 320px;
    margin: 0;
    padding: 0;
    list-style: none;
    font-size: 12.5px;
  }
  .ceilings li {
    border-left: 3px solid var(--warn);
    padding: 1px 0 1px 10px;
    margin-top: 4px;
    max-width: 90ch;
  }
  .start {
    max-width: 62ch;
    padding: 28px;
  }
  @media (max-width: 900px) {
    .leaf {
      grid-template-columns: minmax(0, 1fr);
    }
    .legend {
      margin-left: 0;
    }
  }
  @media (max-width: 560px) {
    .ceilings,
    .zoom {
      flex: 1 0 100%;
    }
    .zoom {
      justify-content: space-between;
    }
    .legend {
      flex-wrap: wrap;
    }
    fw-change-legend {
      --fw-legend-bar: 80px;
    }
  }
`;
