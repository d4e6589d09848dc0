// The grid shows a table and says what the user does; the table is changed here, with the library.
import { FuelwrightError, readDecimal, readTableText, scaleCells, setCells } from "@fuelwright/table-core";
import "@fuelwright/workbench";

// Invented figures.
const { table } = readTableText("pulse width (ms): kPa \\ rpm,1000,3000,6000\n40,2.9,3.3,3.1\n100,8.1,9.2,8.8", {
  id: "main",
});
const grid = document.querySelector("fw-fuel-grid");
const output = document.querySelector("output");
grid.table = table;
grid.earlier = table;

function change(operation) {
  grid.table = operation(grid.table);
  output.textContent = [...grid.table.cells].map((ms) => ms.toFixed(3)).join(" ");
}

document.querySelector("button").addEventListener("click", () => {
  change((now) => scaleCells(now, { region: grid.region, factor: 1.03 }));
});
grid.addEventListener("fw-cells-typed", (event) => {
  try {
    const value = readDecimal(event.text);
    change((now) => setCells(now, { region: event.region, value }));
    grid.problem = null;
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    // The field stays open, and says why.
    event.preventDefault();
    grid.problem = error.message;
  }
});
