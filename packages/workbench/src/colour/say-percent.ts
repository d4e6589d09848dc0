/** Keeps a number and its unit, or a sign and its number, on one line. */
const NO_BREAK = "\u00a0";

/**
 * A percentage as it is read: to one decimal below 10, whole above, with a true minus sign.
 *
 * @example saySize(12.34) // "12"
 */
export function saySize(percent: number): string {
  const size = Math.abs(percent);
  return size < 9.95 ? size.toFixed(1).replace(/\.0$/, "") : size.toFixed(0);
}

/** A change with its sign, without the percent sign. @example sayChange(-12.34) // "−12" */
export function sayChange(percent: number): string {
  const size = saySize(percent);
  return size === "0" ? size : `${percent < 0 ? "−" : "+"}${size}`;
}

/** How far the colours reach. @example saySpan({ less: 12, more: 30 }) // "−12 to +30 %" */
export function saySpan({ less, more }: { readonly less: number; readonly more: number }): string {
  const [fall, rise] = [saySize(less), saySize(more)];
  return fall === rise ? `±${rise}${NO_BREAK}%` : `−${fall} to +${rise}${NO_BREAK}%`;
}
