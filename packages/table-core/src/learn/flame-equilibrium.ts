import { FuelwrightError } from "../values/errors.ts";
import {
  flameElements,
  flameSpecies,
  GAS_CONSTANT,
  type GasState,
  gasState,
  type SpeciesData,
  STANDARD_PRESSURE_KPA,
  speciesData,
} from "./gas-data.ts";

/** What is burnt: atoms in mol and the enthalpy they bring, in kJ. */
export interface Reactants {
  /** C, H, O, N. */
  readonly atoms: readonly number[];
  readonly enthalpyKj: number;
  readonly pressureKpa: number;
}

/** Burnt gas: mol of each of {@link flameSpecies}. */
export interface Equilibrium {
  readonly temperatureK: number;
  readonly moles: Float64Array;
}

/** Newton steps; a dozen do from a cold start. */
const MOST_STEPS = 200;
const START_K = 2000;
/** Where a gas is so rare that it counts for nothing but its own bookkeeping (ln of its share). */
const RARE = -18.420681;
/** A gas is kept above this share (ln), so that it can come back. */
const RAREST = -90;

/**
 * The burnt gas at the temperature at which it holds what the reactants brought, at constant pressure.
 *
 * Least free energy at given enthalpy and pressure by Newton steps on element potentials, total moles and temperature, with
 * the step control of the source. Elements that are not there are left out with their gases.
 *
 * @throws FuelwrightError `no-equilibrium`
 * @see S. Gordon & B. J. McBride, NASA RP-1311 (1994), ch. 2 and 3
 */
export function flameEquilibrium({ atoms, enthalpyKj, pressureKpa }: Reactants): Equilibrium {
  const elements = flameElements.map((_, i) => i).filter((i) => atoms[i]! > 0);
  const gases = flameSpecies.filter((name) => speciesData[name].atoms.every((n, i) => n === 0 || atoms[i]! > 0));
  const data = gases.map((name) => speciesData[name]);
  const rows = data.map((gas) => elements.map((i) => gas.atoms[i]!));
  const wanted = elements.map((i) => atoms[i]!);
  const total = wanted.reduce((sum, n) => sum + n, 0);
  const solved = solve(
    data,
    rows,
    wanted,
    total,
    (enthalpyKj * 1000) / GAS_CONSTANT,
    Math.log(pressureKpa / STANDARD_PRESSURE_KPA),
  );
  const moles = new Float64Array(flameSpecies.length);
  gases.forEach((name, j) => {
    moles[flameSpecies.indexOf(name)] = Math.exp(solved.logs[j]!);
  });
  return { temperatureK: solved.temperatureK, moles };
}

function solve(
  data: readonly SpeciesData[],
  rows: readonly (readonly number[])[],
  wanted: readonly number[],
  total: number,
  /** Enthalpy over the gas constant, K mol. */
  brought: number,
  logPressure: number,
): { temperatureK: number; logs: Float64Array } {
  const count = data.length;
  const m = wanted.length;
  const size = m + 2;
  const logs = new Float64Array(count).fill(Math.log((0.4 * total) / count));
  const states: GasState[] = data.map(() => ({ enthalpy: 0, entropy: 0, heatCapacity: 0 }));
  const matrix = new Float64Array(size * (size + 1));
  const steps = new Float64Array(count);
  const potentials = new Float64Array(count);
  let logMoles = Math.log(0.4 * total);
  let logT = Math.log(START_K);
  for (let turn = 0; turn < MOST_STEPS; turn++) {
    const kelvin = Math.exp(logT);
    matrix.fill(0);
    let sum = 0;
    for (let j = 0; j < count; j++) {
      const state = gasState(data[j]!, kelvin, logT, states[j]!);
      const moles = Math.exp(logs[j]!);
      const potential = state.enthalpy - state.entropy + logs[j]! - logMoles + logPressure;
      potentials[j] = potential;
      const row = rows[j]!;
      sum += moles;
      for (let i = 0; i < m; i++) {
        const share = moles * row[i]!;
        if (share === 0) continue;
        const at = i * (size + 1);
        for (let k = 0; k < m; k++) matrix[at + k]! += share * row[k]!;
        matrix[at + m]! += share;
        matrix[at + m + 1]! += share * state.enthalpy;
        matrix[at + size]! += share * (potential - 1);
      }
      const atN = m * (size + 1);
      matrix[atN + m + 1]! += moles * state.enthalpy;
      matrix[atN + size]! += moles * (potential - 1);
      const atT = (m + 1) * (size + 1);
      matrix[atT + m + 1]! += moles * (state.heatCapacity + state.enthalpy ** 2);
      matrix[atT + size]! += moles * state.enthalpy * (potential - 1);
    }
    const inAll = Math.exp(logMoles);
    const atN = m * (size + 1);
    const atT = atN + size + 1;
    for (let i = 0; i < m; i++) {
      matrix[i * (size + 1) + size]! += wanted[i]!;
      matrix[atN + i] = matrix[i * (size + 1) + m]!;
      matrix[atT + i] = matrix[i * (size + 1) + m + 1]!;
    }
    matrix[atN + m] = sum - inAll;
    matrix[atN + size]! += inAll;
    matrix[atT + m] = matrix[atN + m + 1]!;
    matrix[atT + size]! += brought / kelvin;
    const x = eliminate(matrix, size);
    if (!x) break;
    const dN = x[m]!;
    const dT = x[m + 1]!;
    let largest = Math.max(5 * Math.abs(dT), 5 * Math.abs(dN));
    let room = 1;
    let off = 0;
    for (let j = 0; j < count; j++) {
      const row = rows[j]!;
      let step = dN + states[j]!.enthalpy * dT - potentials[j]!;
      for (let i = 0; i < m; i++) step += row[i]! * x[i]!;
      steps[j] = step;
      const share = logs[j]! - logMoles;
      if (share > RARE) largest = Math.max(largest, Math.abs(step));
      else if (step > 0) room = Math.min(room, Math.abs((-share - 9.2103404) / (step - dN)));
      off = Math.max(off, Math.exp(logs[j]!) * Math.abs(step));
    }
    const damp = Math.min(1, 2 / largest, room);
    logMoles += damp * dN;
    logT += damp * dT;
    for (let j = 0; j < count; j++) logs[j] = Math.max(logs[j]! + damp * steps[j]!, logMoles + RAREST);
    if (damp === 1 && off < 1e-12 * sum && Math.abs(dN) < 1e-12 && Math.abs(dT) < 1e-12)
      return { temperatureK: Math.exp(logT), logs };
  }
  throw new FuelwrightError(
    "no-equilibrium",
    `flameTemperature: the burnt gas found no equilibrium; check the fuel's composition and enthalpy of formation`,
  );
}

/** Gauss elimination with the largest pivot; null where the matrix is singular. Works in place. */
function eliminate(matrix: Float64Array, size: number): Float64Array | null {
  const width = size + 1;
  for (let column = 0; column < size; column++) {
    let pivot = column;
    for (let row = column + 1; row < size; row++)
      if (Math.abs(matrix[row * width + column]!) > Math.abs(matrix[pivot * width + column]!)) pivot = row;
    const value = matrix[pivot * width + column]!;
    if (!(Math.abs(value) > 0)) return null;
    if (pivot !== column)
      for (let k = column; k < width; k++) {
        const kept = matrix[column * width + k]!;
        matrix[column * width + k] = matrix[pivot * width + k]!;
        matrix[pivot * width + k] = kept;
      }
    for (let row = column + 1; row < size; row++) {
      const factor = matrix[row * width + column]! / value;
      if (factor === 0) continue;
      for (let k = column; k < width; k++) matrix[row * width + k]! -= factor * matrix[column * width + k]!;
    }
  }
  const x = new Float64Array(size);
  for (let row = size - 1; row >= 0; row--) {
    let value = matrix[row * width + size]!;
    for (let k = row + 1; k < size; k++) value -= matrix[row * width + k]! * x[k]!;
    x[row] = value / matrix[row * width + row]!;
  }
  return x;
}
