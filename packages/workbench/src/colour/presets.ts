import { type ColourScheme, createColourScheme } from "@fuelwright/table-core";

/** A scheme to start from. */
export interface Preset {
  /** Stable, for settings and tests. */
  readonly id: "everyday" | "red-green" | "blue-yellow" | "print" | "sunlight" | "calm";
  /** What it is for, in a few words. */
  readonly purpose: string;
  readonly scheme: ColourScheme;
}

/**
 * Schemes to start from, the everyday one first.
 *
 * Each is measured for what it says it is for, on the light and the dark sheet, by `tellApart` in the tests beside this
 * file. No scheme runs through more than two hues.
 */
export const presets: readonly Preset[] = Object.freeze([
  preset("everyday", "For every day", { name: "Verdigris and rust", less: "#3f9c8c", more: "#d0693a" }),
  preset("red-green", "For red-green colour blindness", { name: "Slate and straw", less: "#5b86c4", more: "#c9a227" }),
  preset("blue-yellow", "For blue-yellow colour blindness", {
    name: "Spruce and brick",
    less: "#3aa39a",
    more: "#e0605f",
  }),
  // Lightness alone says it: lighter than the middle is less, darker is more. Unchanged cells are grey for that.
  preset("print", "For print in black and white", {
    name: "Pencil",
    less: "#ffffff",
    middle: "#cbcbcb",
    more: "#888888",
    steps: 2,
  }),
  // A white board in dark surroundings too, and ends so light that ink keeps 7:1 (WCAG 2.2, AAA).
  preset("sunlight", "High contrast, for sunlight", {
    name: "Noon",
    less: "#5cb8ff",
    middle: "#ffffff",
    more: "#ffa04d",
    steps: 3,
  }),
  preset("calm", "Quiet, for long sessions", { name: "Fog", less: "#9cc3bd", more: "#e0b091" }),
]);

function preset(id: Preset["id"], purpose: string, colours: Partial<ColourScheme> & { name: string }): Preset {
  const { name, less = "", middle = "paper", more = "", span = { kind: "symmetrical" }, steps = 0 } = colours;
  return Object.freeze({ id, purpose, scheme: createColourScheme({ name, less, middle, more, span, steps }) });
}
