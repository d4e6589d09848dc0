/** Red, green and blue in linear light; 0..1 inside what a screen can show. */
export type LinearRgb = readonly [number, number, number];

/**
 * The linear light of a colour given as `#rrggbb`.
 *
 * @see IEC 61966-2-1 (sRGB); the threshold 0.04045 is that of WCAG 2.2 as well
 */
export function toLinear(colour: string): LinearRgb {
  const bits = Number.parseInt(colour.slice(1, 7), 16);
  return [decode((bits >> 16) & 255), decode((bits >> 8) & 255), decode(bits & 255)];
}

/** The nearest `#rrggbb`; light outside 0..1 is clipped, channel by channel. */
export function fromLinear(light: LinearRgb): string {
  return `#${light.map((value) => encode(value).toString(16).padStart(2, "0")).join("")}`;
}

/** Whether a screen can show this light, to within a thousandth of a channel. */
export function isShowable(light: LinearRgb): boolean {
  return light.every((value) => value >= -1e-4 && value <= 1 + 1e-4);
}

function decode(channel: number): number {
  const share = channel / 255;
  return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
}

function encode(value: number): number {
  const light = Math.min(1, Math.max(0, value));
  const share = light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
  return Math.floor(share * 255 + 0.5);
}
