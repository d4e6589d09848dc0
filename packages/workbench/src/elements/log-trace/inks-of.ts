import type { Inks } from "./draw-trace.ts";

/**
 * The colours of the page for a canvas, as they are used there.
 *
 * A token may hold `light-dark()`: only a colour in use says which of the two it is.
 */
export function inksOf(element: HTMLElement): Inks {
  const probe = document.createElement("span");
  element.shadowRoot!.append(probe);
  const colour = (name: string) => {
    probe.style.color = `var(--${name})`;
    return getComputedStyle(probe).color;
  };
  const inks = {
    ink: colour("ink"),
    quiet: colour("ink-2"),
    rule: colour("rule"),
    font: getComputedStyle(element).fontFamily,
  };
  probe.remove();
  return inks;
}
