import { figure } from "../../store/display.ts";

/** A share as a percentage with its sign: "+3.2 %". */
export function signed(share: number, decimals = 1): string {
  const percent = 100 * share;
  const text = Math.abs(percent).toFixed(decimals);
  return Number(text) === 0 ? `${text} %` : `${percent < 0 ? "−" : "+"}${text} %`;
}

export const percent = (share: number, decimals = 1): string => `${(100 * share).toFixed(decimals)} %`;

/** A duration as it is said: "14 s", "12 min 30 s". */
export function duration(seconds: number): string {
  if (seconds < 90) return `${figure(seconds, 0)} s`;
  const minutes = Math.floor(seconds / 60);
  const rest = Math.round(seconds - 60 * minutes);
  if (minutes < 90) return rest ? `${minutes} min ${rest} s` : `${minutes} min`;
  return `${figure(seconds / 3600, 1)} h`;
}

export const counted = (count: number, one: string, several = `${one}s`): string =>
  `${figure(count, 0)} ${count === 1 ? one : several}`;

/**
 * A figure with its standard deviation, to as many decimals as the deviation is worth: "0.31 ± 0.02 s".
 *
 * @param decimals - at least, and of a figure that was given and has no deviation
 */
export function give(value: number, deviation: number, decimals: number, unit: string): string {
  const worth = deviation > 0 ? Math.min(4, Math.max(decimals, Math.ceil(-Math.log10(deviation)))) : decimals;
  const doubt = deviation > 0 ? ` ± ${deviation.toFixed(worth)}` : "";
  return `${value.toFixed(worth).replace("-", "−")}${doubt} ${unit}`.trim();
}

const sizes = ["bytes", "kB", "MB", "GB"] as const;

export function bytes(count: number): string {
  let value = count;
  let at = 0;
  while (value >= 1000 && at < sizes.length - 1) {
    value /= 1000;
    at++;
  }
  return `${figure(value, value < 10 && at > 0 ? 1 : 0)} ${sizes[at]}`;
}
