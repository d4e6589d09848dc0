import { type Sight, sights } from "../../colour/colour-vision.ts";
import { sayChange } from "../../colour/say-percent.ts";
import type { SightReport } from "../../colour/tell-apart.ts";

/** What one way of seeing tells apart, in a sentence. */
export function sayVerdict({ verdict, nearest }: SightReport): string {
  if (verdict === "clear") return "told apart at a glance";
  const pair = `${sayChange(nearest.from)} and ${sayChange(nearest.to)} %`;
  return verdict === "close" ? `${pair} on a close look` : `${pair} look alike`;
}

/** The same for all ways of seeing with eyes; grey print is left to its own line. */
export function saySummary(reports: readonly SightReport[]): string {
  const eyes = reports.filter(({ sight }) => sight !== "grey");
  const of = (verdict: SightReport["verdict"]) => eyes.filter((report) => report.verdict === verdict);
  const names = (some: readonly SightReport[]) => some.map(({ sight }) => sightName(sight)).join(", ");
  const alike = of("alike");
  if (alike.length > 0) return `Some tints look alike: ${names(alike)}.`;
  const close = of("close");
  if (close.length > 0) return `All tints can be told apart; some on a close look: ${names(close)}.`;
  return "All tints can be told apart at a glance, by every sight.";
}

const sightName = (sight: Sight) => sights[sight].replace(/ \(.*/, "").toLowerCase();
