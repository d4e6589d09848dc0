/**
 * The colour in what was typed, as `#rrggbb`, or null: six or three hexadecimal digits, with or without `#`.
 *
 * @example readColour("B4592D") // "#b4592d"
 */
export function readColour(text: string): string | null {
  const digits = /^\s*#?([0-9a-f]{6}|[0-9a-f]{3})\s*$/i.exec(text)?.[1]?.toLowerCase();
  if (digits === undefined) return null;
  return `#${digits.length === 6 ? digits : [...digits].map((digit) => digit + digit).join("")}`;
}

/** What to say where {@link readColour} gives null. */
export const COLOUR_RULE = "Write # and six digits 0 to 9 or a to f, such as #b4592d.";
