// An expression in every cell of a 64 × 64 table, scanned, parsed and compiled anew each time, beside the parser's own
// evaluation (mathjs/number, compiled once a run), in one process.
import { all, create } from "mathjs/number";
import { createAxis, createTable, evaluateCells } from "../dist/index.js";

const SIZE = 64;
const EXPRESSION = "cell * 1.05 + (rpm > 3000 and load < 60 ? 0.2 : 0.1) * sqrt(load / 100) + max(cell, 2)";

export function setup() {
  const rpm = createAxis({ quantity: "rpm", breakpoints: Array.from({ length: SIZE }, (_, at) => 600 + at * 110) });
  const load = createAxis({
    quantity: "manifold-pressure",
    breakpoints: Array.from({ length: SIZE }, (_, at) => 20 + at * 1.3),
  });
  const cells = load.breakpoints.map((kpa) => rpm.breakpoints.map((turns) => 1.4 + kpa * 0.08 + turns / 9000));
  return createTable({ id: "main", name: "invented", quantity: "pulse-width", rpm, load, cells });
}

/** @returns rows for the table of ratios: name, milliseconds at the median, the peer's, and how many times faster */
export function run({ rounds = 100 } = {}) {
  const table = setup();
  const peer = create(all);
  const ours = median(rounds, () => evaluateCells(table, { expression: EXPRESSION }).cells);
  const theirs = median(rounds, () => {
    const compiled = peer.compile(EXPRESSION);
    const scope = new Map();
    return table.cells.map((cell, at) => {
      scope.set("cell", cell);
      scope.set("rpm", table.rpm.breakpoints[at % SIZE]);
      scope.set("load", table.load.breakpoints[Math.floor(at / SIZE)]);
      return compiled.evaluate(scope);
    });
  });
  if (ours.result.some((value, at) => value !== theirs.result[at])) throw new Error("the two do not agree");
  return [{ name: "evaluate an expression, 64×64", ms: ours.ms, peerMs: theirs.ms, times: theirs.ms / ours.ms }];
}

function median(rounds, work) {
  const times = [];
  let result;
  for (let round = 0; round < rounds + 20; round++) {
    const start = performance.now();
    result = work();
    if (round >= 20) times.push(performance.now() - start);
  }
  return { ms: times.sort((a, b) => a - b)[rounds >> 1], result };
}

if (import.meta.url === `file://${process.argv[1]}`) console.table(run());
