import { FuelwrightError } from "@fuelwright/table-core";
import type { CellsTypedEvent, FuelGrid, StripActionEvent } from "@fuelwright/workbench";
import "@fuelwright/workbench/elements/fuel-grid";
import "@fuelwright/workbench/elements/step-strip";
import { render } from "preact";
import { useMemo, useRef, useState } from "preact/hooks";
import { empty, scaled, source, tableOf, typed, withSteps } from "./job.ts";

function App() {
  const [job, setJob] = useState(empty);
  const [focused, setFocused] = useState(0);
  const grid = useRef<FuelGrid>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const table = useMemo(() => tableOf(job), [job]);

  const onTyped = (event: CellsTypedEvent) => {
    const next = typed(job, event.region, event.text);
    if (next instanceof FuelwrightError) {
      // The field stays open, and says why.
      event.preventDefault();
      setProblem(next.message);
    } else {
      setProblem(null);
      setJob(next);
    }
  };

  const onStrip = ({ detail: action }: StripActionEvent) => {
    const others = job.steps.filter(({ id }) => id !== action.id);
    if (action.kind === "delete") setJob(withSteps(job, others));
    if (action.kind === "switch")
      setJob(
        withSteps(
          job,
          job.steps.map((step) => (step.id === action.id ? { ...step, on: action.on } : step)),
        ),
      );
  };

  return (
    <>
      <h1>An invented table</h1>
      <fw-fuel-grid
        ref={grid}
        label="Invented pulse widths"
        table={table}
        earlier={source}
        problem={problem}
        onfw-selection-change={(event) => setFocused(event.focused)}
        onfw-cells-typed={onTyped}
      />
      <button type="button" onClick={() => setJob(scaled(job, grid.current!.region, 1.03))}>
        3 % more
      </button>
      <fw-step-strip
        sourceText="invented figures"
        steps={job.steps.map(({ id, kind, on }) => ({ id, title: kind, detail: "", on }))}
        onfw-strip-action={onStrip}
      />
      <p>The cell with the focus was {source.cells[focused]!.toFixed(2)} ms.</p>
      <output>{Array.from(table.cells, (ms) => ms.toFixed(3)).join(" ")}</output>
    </>
  );
}

render(<App />, document.getElementById("app")!);
