import { type Axis, type AxisSpec, createAxis } from "../values/axis.ts";
import { FuelwrightError, within } from "../values/errors.ts";
import { requireText, requireWhole, say } from "../values/require.ts";
import type { DelayReport } from "./describe-dynamics.ts";
import type { EvidenceFit } from "./fit-evidence.ts";
import type { GateCount } from "./gates.ts";
import type { EvidenceWarning, Suspect } from "./warnings.ts";

/** What a job keeps of a fit: JSON values only, the size of the table and not of the log. */
export interface EvidenceSummary {
  readonly version: 1;
  readonly name: string;
  readonly logs: readonly string[];
  readonly simulated: boolean;
  readonly rpm: Pick<Axis, "quantity" | "breakpoints">;
  readonly load: Pick<Axis, "quantity" | "breakpoints">;
  readonly cylinder?: number;
  /** What each cell should be multiplied by, row-major [load][rpm]. */
  readonly factors: readonly number[];
  /** Standard deviations of the same, as shares. */
  readonly deviations: readonly number[];
  /** Readings that speak for each cell. */
  readonly samples: readonly number[];
  /** How long each cell was visited, row-major. */
  readonly seconds: readonly number[];
  /** Mean and standard deviation of what the correction leaves, as shares. */
  readonly residuals: readonly number[];
  /** See `residuals`. */
  readonly spreads: readonly number[];
  readonly delay: DelayReport;
  /** Standard deviation of one reading, as a share. */
  readonly noise: number;
  /** How many readings in a row tell as much as one. */
  readonly inflation: number;
  /** Readings that the result rests on. */
  readonly used: number;
  readonly usedSeconds: number;
  readonly gates: readonly Pick<GateCount, "kind" | "label" | "removed" | "alone">[];
  readonly deadTime: Suspect | null;
  readonly warmth: Suspect | null;
  readonly warnings: readonly EvidenceWarning[];
}

/**
 * A fit as a job keeps it.
 *
 * @param fit - of `fitEvidence`
 * @param name - what to call it; left out: the logs' names
 */
export function summariseEvidence(fit: EvidenceFit, name?: string): EvidenceSummary {
  const { corrections, coverage, report, delay } = fit;
  // Six significant figures are far finer than any deviation, and keep a job's file small.
  const short = (values: Float64Array) => Array.from(values, (value) => Number(value.toPrecision(6)));
  return createEvidenceSummary({
    version: 1,
    name: name ?? report.logs.join(", ").slice(0, 200),
    logs: report.logs,
    simulated: report.simulated,
    rpm: { quantity: corrections.rpm.quantity, breakpoints: corrections.rpm.breakpoints },
    load: { quantity: corrections.load.quantity, breakpoints: corrections.load.breakpoints },
    ...(corrections.cylinder !== undefined && { cylinder: corrections.cylinder }),
    factors: short(corrections.cells),
    deviations: short(fit.deviation),
    samples: short(coverage.samples),
    seconds: short(coverage.seconds),
    residuals: short(coverage.residual),
    spreads: short(coverage.spread),
    delay,
    noise: report.noise.value,
    inflation: report.inflation,
    used: report.used,
    usedSeconds: report.usedSeconds,
    gates: report.gates.map(({ kind, label, removed, alone }) => ({ kind, label, removed, alone })),
    deadTime: report.deadTime,
    warmth: report.warmth,
    warnings: report.warnings,
  });
}

/** Columns of a summary with one number for each cell. */
const cellColumns = ["factors", "deviations", "samples", "seconds", "residuals", "spreads"] as const;

/**
 * A checked, frozen summary, as read from a job.
 *
 * @throws FuelwrightError `bad-evidence` naming the field, and what `createAxis` throws
 */
export function createEvidenceSummary(data: EvidenceSummary, where = "evidence"): EvidenceSummary {
  if (typeof data !== "object" || data === null)
    throw new FuelwrightError(
      "bad-evidence",
      `${where} must be an evidence summary, got ${say(data)}; fit a log first`,
    );
  if (data.version !== 1)
    throw new FuelwrightError(
      "bad-evidence",
      `${where}.version must be 1, got ${say(data.version)}; open it with a newer version`,
    );
  requireText(`${where}.name`, data.name, 400);
  const rpm = within(`${where}.rpm`, () => createAxis(data.rpm as AxisSpec));
  const load = within(`${where}.load`, () => createAxis(data.load as AxisSpec));
  const count = rpm.breakpoints.length * load.breakpoints.length;
  if (data.cylinder !== undefined) requireWhole(`${where}.cylinder`, data.cylinder, 1, 64);
  for (const column of cellColumns) {
    const values = data[column];
    if (!Array.isArray(values) || values.length !== count)
      throw new FuelwrightError(
        "bad-evidence",
        `${where}.${column} must be ${count} numbers, one for each cell, got ${say(values)}; fit the log again`,
        { column, count },
      );
    const low = column === "residuals" ? Number.NEGATIVE_INFINITY : 0;
    values.forEach((value: unknown, at) => {
      if (typeof value !== "number" || !Number.isFinite(value) || value < low || (column === "factors" && value === 0))
        throw new FuelwrightError(
          "bad-evidence",
          `${where}.${column}[${at}] must be a number${low === 0 ? " not below 0" : ""}, got ${say(value)}; fit the log again`,
          { column, at },
        );
    });
  }
  return Object.freeze({ ...data });
}
