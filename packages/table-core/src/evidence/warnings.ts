import type { DelayReport } from "./describe-dynamics.ts";
import type { EvidenceReport } from "./fit-evidence.ts";
import type { LogQuantity } from "./samples.ts";

/** Something about the log or the fit that the user should know, in words and as values. */
export interface EvidenceWarning {
  readonly code:
    | "simulated"
    | "rich-stop"
    | "lean-stop"
    | "delay-uncertain"
    | "lag-uncertain"
    | "no-pulse-width"
    | "no-commanded"
    | "lean-spikes"
    | "dead-time"
    | "warmth"
    | "hang-together"
    | "outliers"
    | "time-backwards"
    | "sensors-differ"
    | "too-wide"
    | "coarse"
    | "few-readings";
  readonly text: string;
  readonly details: Readonly<Record<string, number | string>>;
}

/** A quantity that corrections may hide, fitted beside them. */
export interface Suspect {
  /** In the unit that its place says. */
  readonly value: number;
  /** Standard deviation, in the same unit. */
  readonly deviation: number;
  /** Whether the log speaks for it more than for a change of cells. */
  readonly supported: boolean;
}

export const percent = (share: number, decimals = 1): string => `${(100 * share).toFixed(decimals)} %`;

/** What {@link warningsOf} looks at. */
export interface WarningFacts {
  readonly report: Omit<EvidenceReport, "warnings">;
  readonly delay: DelayReport;
  readonly found: ReadonlySet<LogQuantity>;
  readonly commandedGiven: boolean;
  /** Whether nothing was searched for. */
  readonly delayKnown: boolean;
  readonly stops: { readonly rich: number; readonly lean: number };
  readonly leanSpikes: number;
  readonly outliers: number;
  readonly wide: number;
  readonly coarse: boolean;
}

/** What the user should know about a fit, in order of weight. */
export function warningsOf(facts: WarningFacts): EvidenceWarning[] {
  const { report, delay, found, stops } = facts;
  const warnings: EvidenceWarning[] = [];
  const warn = (code: EvidenceWarning["code"], text: string, details: EvidenceWarning["details"] = {}) =>
    warnings.push({ code, text, details });
  if (report.simulated) warn("simulated", "A simulated log: what was found is about an invented machine.");
  const many = Math.max(20, 0.005 * report.readings);
  if (stops.rich > many)
    warn(
      "rich-stop",
      `The sensor stood at its rich stop in ${stops.rich} readings: the mixture there is richer than it can show.`,
      { readings: stops.rich },
    );
  if (stops.lean > many)
    warn(
      "lean-stop",
      `The sensor stood at its lean stop in ${stops.lean} readings with the engine under fuel: look for misfire, an air leak before the sensor, or a mixture far too lean.`,
      { readings: stops.lean },
    );
  if (facts.leanSpikes > Math.max(5, report.usedSeconds / 120))
    warn(
      "lean-spikes",
      `${facts.leanSpikes} short lean spikes: misfires read as lean. Check ignition before you add fuel.`,
      { spikes: facts.leanSpikes },
    );
  if (!facts.delayKnown) {
    if (!delay.found)
      warn(
        "delay-uncertain",
        "The mixture or the load changes too little to find the delay: its figures are little more than what is usual. Roll on and off a few times.",
        {
          deviation: Math.max(...delay.sensors.map(({ total }) => total.deviation)),
        },
      );
    else if (delay.sensors.some(({ lag }) => lag.deviation > 0.3 * lag.value))
      warn("lag-uncertain", "The sensor's lag is known only roughly.", {
        deviation: Math.max(...delay.sensors.map(({ lag }) => lag.deviation)),
      });
  }
  if (!found.has("pulse-width"))
    warn(
      "no-pulse-width",
      "The log has no pulse widths: the fuel film cannot be found, and moving throttle is left out instead.",
    );
  if (!found.has("lambda-commanded") && !facts.commandedGiven)
    warn(
      "no-commanded",
      "The log has no commanded lambda; 1 was assumed everywhere. Give the target, or corrections will undo its enrichment.",
    );
  const { deadTime, warmth, inflation } = report;
  if (deadTime?.supported)
    warn(
      "dead-time",
      `Corrections grow with 1/pulse: a dead time ${Math.abs(deadTime.value).toFixed(2)} ms ${deadTime.value > 0 ? "longer" : "shorter"} than assumed (± ${deadTime.deviation.toFixed(2)} ms) explains them better than changed cells do. Check the dead time first.`,
      { ms: deadTime.value, deviation: deadTime.deviation },
    );
  if (warmth && Math.abs(warmth.value) > Math.max(0.004, 4 * warmth.deviation))
    warn(
      "warmth",
      `The mixture is ${percent(Math.abs(warmth.value))} ${warmth.value > 0 ? "leaner" : "richer"} for each 10 °C of coolant: the warm-up or air-temperature correction is suspect, not the table.`,
      { share: warmth.value, deviation: warmth.deviation },
    );
  if (inflation > 3)
    warn(
      "hang-together",
      `Readings hang together in time (${inflation.toFixed(1)} in a row tell as much as one): deviations are widened for it. Something else than the table moves the mixture.`,
      { inflation },
    );
  if (facts.outliers > Math.max(20, 0.01 * report.used))
    warn(
      "outliers",
      `${percent(facts.outliers / report.used)} of the readings are far from any table; they count little.`,
      { readings: facts.outliers },
    );
  const backwards = report.gates.find(({ kind }) => kind === "backwards")?.removed ?? 0;
  if (backwards > 0)
    warn("time-backwards", `Time runs backwards ${backwards} times: were logs joined, or did the logger restart?`, {
      times: backwards,
    });
  if (delay.sensors.length > 1) {
    const lags = delay.sensors.map(({ lag }) => lag.value);
    if (Math.max(...lags) > 2.5 * Math.min(...lags))
      warn("sensors-differ", "One sensor is much slower than another: it may be old or fouled.", {
        slowest: Math.max(...lags),
        fastest: Math.min(...lags),
      });
  }
  if (facts.wide > 0.02 * report.used)
    warn("too-wide", `${facts.wide} readings crossed too many cells at once for a table this fine and are left out.`, {
      readings: facts.wide,
    });
  if (facts.coarse)
    warn(
      "coarse",
      "The table is finer than evidence can tell apart: corrections were found on every second breakpoint or so and interpolated.",
    );
  if (report.used < 1000)
    warn("few-readings", `Only ${report.used} readings could be used; ride longer.`, { readings: report.used });
  return warnings;
}
