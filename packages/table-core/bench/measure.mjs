import { spawnSync } from "node:child_process";

/** Milliseconds of the round that was disturbed least: what compares best on a machine that does other things too. */
export function least(rounds, work) {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const start = performance.now();
    work();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

/**
 * What a Python script prints as JSON, or null where python3 or what it imports is missing.
 *
 * `least(n, f)`, numpy as `np` and scipy's sparse modules as `sp` and `spl` are there.
 */
export function python(script) {
  const head = `
import json, time
import numpy as np, scipy.sparse as sp, scipy.sparse.linalg as spl, scipy.linalg as sl, scipy.interpolate as si
def least(n, f):
    best = 1e9
    for _ in range(n):
        t = time.perf_counter(); f(); best = min(best, time.perf_counter() - t)
    return best * 1000
def differences(n):
    return sp.diags([np.ones(n - 2), -2 * np.ones(n - 2), np.ones(n - 2)], [0, 1, 2], shape=(n - 2, n))
def penalty(n):
    p = differences(n).T @ differences(n)
    return sp.kron(sp.identity(n), p) + sp.kron(p, sp.identity(n))
`;
  const { status, stdout } = spawnSync("python3", ["-c", head + script], { encoding: "utf8", maxBuffer: 1e8 });
  return status === 0 ? JSON.parse(stdout) : null;
}

/** Numbers in [0, 1) that are the same in every run. */
export function random(seed) {
  let state = seed >>> 0;
  return () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 4_294_967_296;
}

/** An axis of uneven gaps. */
export function unevenly(from, to, count, next) {
  const places = [0];
  while (places.length < count) places.push(places.at(-1) + 0.4 + 1.5 * next());
  return places.map((place) => from + ((to - from) * place) / places.at(-1));
}

/** A row of the table of ratios; without the peer's figure if there is none. */
export const row = (name, ms, peer, peerMs, target) => ({
  name,
  ms,
  ...(peerMs && { peer, peerMs, ratio: peerMs / ms }),
  target,
});
