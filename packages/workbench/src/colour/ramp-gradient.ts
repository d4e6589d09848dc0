import type { ChangeColours } from "./change-colours.ts";

/** Stops of a smooth ramp: between them a browser mixes in sRGB, too short a way to be seen. */
const STOPS = 33;

/** The ramp as a CSS image, greatest fall at the left: bands of one width for a stepped scheme, smooth otherwise. */
export function rampGradient({ scheme, tints }: Pick<ChangeColours, "scheme" | "tints">): string {
  const colour = (at: number) => tints[Math.round(at)]!.background;
  const stops =
    scheme.steps > 0
      ? tints.map((_, at) => `${colour(at)} ${share(at / tints.length)} ${share((at + 1) / tints.length)}`)
      : Array.from({ length: STOPS }, (_, at) => colour((at / (STOPS - 1)) * (tints.length - 1)));
  return `linear-gradient(90deg, ${stops.join(", ")})`;
}

const share = (part: number) => `${(part * 100).toFixed(2)}%`;
