// Fits a log, applies what it proves, and compares with the truth, which only a simulated log has.
//
//   node run.mjs [seed]
//
// The machine, its table and the ride are simulated and invented. With a log of your own: readLog in place of simulateLog.
import {
  applyEvidence,
  createAxis,
  createTable,
  fitEvidence,
  simulateLog,
  suggestTipIn,
  summariseEvidence,
} from "@fuelwright/table-core";

const seed = Number(process.argv[2] ?? 7);
const rpm = createAxis({ quantity: "rpm", breakpoints: [1200, 2400, 3600, 4800, 6000] });
const load = createAxis({ quantity: "manifold-pressure", breakpoints: [35, 50, 65, 80, 95] });
const table = createTable({
  id: "main",
  name: "invented efficiencies",
  quantity: "volumetric-efficiency",
  rpm,
  load,
  cells: load.breakpoints.map((kpa) => rpm.breakpoints.map((r) => 62 + 0.12 * kpa + 9 * Math.sin((r - 1200) / 3000))),
});

const { log, truth } = simulateLog({ seed, rpm, load, minutes: 8, film: { share: 0.15, time: 0.2 } });
const fit = await fitEvidence({ logs: [log], table });
const { report, delay } = fit;
console.log(`${log.name}: ${report.rows} rows, ${report.used} readings used. It is simulated, and proves nothing.`);

const [{ total, lag }] = delay.sensors;
const said = ({ value, deviation }) => `${value.toFixed(2)} ± ${deviation.toFixed(2)}`;
console.log(`Delay found ${said(total)} s, put in ${(truth.delay.constant + truth.delay.flow).toFixed(2)} s.`);
console.log(`Lag found ${said(lag)} s, put in ${truth.lag.toFixed(2)} s.`);
console.log(`Fuel film: ${delay.film ? `share ${said(delay.film.share)}, put in ${truth.film.share}` : "none found"}.`);

const evidence = summariseEvidence(fit);
const { table: corrected, report: applied } = applyEvidence(table, { evidence, fraction: 1 });
console.log(`Applied to ${applied.changed} of ${table.cells.length} cells; ${applied.unsupported} have no support.`);

/** Root mean square of what is still wrong, in percent, over the cells that the log supports. */
const wrong = (now) => {
  const off = [...truth.corrections].map((right, at) => right - Math.log(now.cells[at] / table.cells[at]));
  const seen = off.filter((_, at) => evidence.samples[at] >= 25);
  return (100 * Math.sqrt(seen.reduce((sum, one) => sum + one * one, 0) / seen.length)).toFixed(2);
};
console.log(`Where the log speaks the table was wrong by ${wrong(table)} %, and is by ${wrong(corrected)} %.`);
const tipIn = suggestTipIn(delay);
console.log(tipIn ? "The film found also suggests a tip-in enrichment." : "No tip-in enrichment is suggested.");
for (const { text } of report.warnings) console.log(`warning: ${text}`);
