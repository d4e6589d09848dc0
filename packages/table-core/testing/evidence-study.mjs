// How well the evidence fit finds simulated truths at full size: twenty minutes at 50 Hz, 16 × 16 cells, many random rides.
//
//   node packages/table-core/testing/evidence-study.mjs [rides of each kind, 24]
//
// Prints a line for each kind of truth and ends with 1 if a check is missed. The tests run a smaller form of it.
import { fileURLToPath } from "node:url";
import { createServer } from "vite";

const rides = Number(process.argv[2] ?? 24);
const root = fileURLToPath(new URL("..", import.meta.url));
const server = await createServer({ root, configFile: false, logLevel: "error", server: { middlewareMode: true } });
const { randomRide, rideOf, nearestCell, rideRpm, rideLoad } = await server.ssrLoadModule("/testing/rides.ts");
const { fitEvidence } = await server.ssrLoadModule("/src/evidence/fit-evidence.ts");

/** Each kind with the share of nearest-cell averaging (at its best constant delay) that its error may be, and the most. */
const kinds = [
  { name: "smooth", kind: {}, share: 1 / 5, most: 0.004 },
  { name: "cells out of line", kind: { outOfLine: true }, share: 1 / 2 },
  { name: "smooth, film", kind: { film: true }, share: 1 / 3, most: 0.004 },
  { name: "cells out of line, film", kind: { film: true, outOfLine: true }, share: 1 / 3 },
  { name: "cells out of line, film, 0.6 % noise", kind: { film: true, outOfLine: true, quiet: true }, share: 1 / 3 },
  { name: "film, mixture scatter in the cylinder", kind: { film: true }, more: { cylinderNoise: 0.01 }, share: 1 / 3 },
];

async function recover(options) {
  const { log, truth } = rideOf(options);
  const fit = await fitEvidence({ logs: [log], table: { rpm: rideRpm, load: rideLoad } });
  const plain = nearestCell(log, truth.corrections, 50);
  const off = plain.visited.map((at) => Math.log(fit.corrections.cells[at]) - truth.corrections[at]);
  const covered = plain.visited.filter((at, k) => Math.abs(off[k]) <= 1.96 * fit.deviation[at]).length;
  const [{ constant, flow, lag }] = fit.delay.sensors;
  const { film } = fit.delay;
  const within = (found, real, least, share) => Math.abs(found - real) <= Math.max(least, share * real);
  const missed = [
    within(constant.value, truth.delay.constant, 0.02, 0.1) || "constant delay",
    within(flow.value, truth.delay.flow, 0.02, 0.1) || "flow delay",
    within(lag.value, truth.lag, 0, 0.25) || "lag",
    (truth.film === null) === (film === null) || "film or not",
    !truth.film || !film || within(film.share.value, truth.film.share, 0.05, 0) || "film share",
    !truth.film || !film || within(film.time.value, truth.film.time, 0, 0.3) || "film time",
  ].filter((check) => check !== true);
  return {
    cells: off.length,
    square: off.reduce((sum, value) => sum + value * value, 0),
    covered,
    plain: plain.best ** 2 * off.length,
    alone: plain.alone ** 2 * off.length,
    all: Math.sqrt(
      fit.corrections.cells.reduce((sum, cell, at) => sum + (Math.log(cell) - truth.corrections[at]) ** 2, 0) / 256,
    ),
    ratio: Math.sqrt(off.reduce((sum, value) => sum + value * value, 0) / off.length) / plain.best,
    noise: fit.report.noise.value / truth.noise,
    missed,
  };
}

let failed = false;
const rows = [];
for (const { name, kind, more = {}, share, most } of kinds) {
  const all = [];
  for (let seed = 1; seed <= rides; seed++) all.push(await recover({ ...randomRide(seed, kind), ...more }));
  const sum = (value) => all.reduce((total, ride) => total + value(ride), 0);
  const cells = sum((ride) => ride.cells);
  const error = Math.sqrt(sum((ride) => ride.square) / cells);
  const errors = all.map((ride) => Math.sqrt(ride.square / ride.cells));
  const ratio = error / Math.sqrt(sum((ride) => ride.plain) / cells);
  const cover = sum((ride) => ride.covered) / cells;
  const missed = all.flatMap((ride, at) => ride.missed.map((what) => `${what} (${at + 1})`));
  const ok =
    ratio <= share &&
    cover >= 0.9 &&
    cover <= 0.995 &&
    missed.length === 0 &&
    (most === undefined || Math.max(...errors) <= most);
  failed ||= !ok;
  rows.push({
    truth: name,
    "left alone": Math.sqrt(sum((ride) => ride.alone) / cells).toFixed(4),
    "nearest cell": Math.sqrt(sum((ride) => ride.plain) / cells).toFixed(4),
    error: error.toFixed(5),
    "worst ride": Math.max(...errors).toFixed(4),
    ratio: ratio.toFixed(3),
    "worst ratio": Math.max(...all.map((ride) => ride.ratio)).toFixed(3),
    "all cells": Math.sqrt(sum((ride) => ride.all ** 2) / all.length).toFixed(4),
    "covered %": (100 * cover).toFixed(1),
    missed: missed.join(", ") || "none",
    ok,
  });
  console.log(JSON.stringify(rows.at(-1)));
}
console.table(rows);
await server.close();
process.exit(failed ? 1 : 0);
