import { type ColourScheme, createColourScheme } from "@fuelwright/table-core";

/** How one person likes to see things, on this machine; it changes no job. */
export interface Preferences {
  readonly units: "metric" | "imperial";
  readonly mixture: "lambda" | "afr" | "equivalence";
  readonly theme: "system" | "light" | "dark";
  readonly density: "comfortable" | "compact";
  /** Which unit is shown for a kind of figure, where it was chosen by hand (`pressure` to `psi`). */
  readonly shownUnits: Readonly<Record<string, string>>;
  readonly flipRpm: boolean;
  readonly flipLoad: boolean;
  readonly zoom: number;
  readonly shading: "change" | "value" | "none";
  /** The scheme a new job starts with. */
  readonly scheme: ColourScheme | null;
  readonly guide: Guide;
}

/** How far the first job over the demo has come: not begun, on the way or left, with the stops that are done. */
export interface Guide {
  readonly state: "new" | "on" | "left";
  readonly done: readonly string[];
}

export const usualPreferences: Preferences = {
  units: "metric",
  mixture: "lambda",
  theme: "system",
  density: "comfortable",
  shownUnits: {},
  flipRpm: false,
  flipLoad: false,
  zoom: 1,
  shading: "change",
  scheme: null,
  guide: { state: "new", done: [] },
};

const KEY = "fuelwright-preferences";

type Shelf = Pick<Storage, "getItem" | "setItem">;

/** The browser's small storage, or null where the page may not have it. */
export function browserShelf(): Storage | null {
  try {
    return localStorage;
  } catch {
    return null;
  }
}

/** What was kept, each part that does not fit replaced by the usual one: preferences never stop the page. */
export function readPreferences(shelf: Shelf): Preferences {
  let kept: Record<string, unknown>;
  try {
    kept = JSON.parse(shelf.getItem(KEY) ?? "{}") ?? {};
  } catch {
    return usualPreferences;
  }
  const one = <K extends keyof Preferences>(key: K, choices: readonly Preferences[K][]): Preferences[K] =>
    choices.includes(kept[key] as Preferences[K]) ? (kept[key] as Preferences[K]) : usualPreferences[key];
  const zoom = kept.zoom;
  return {
    units: one("units", ["metric", "imperial"]),
    mixture: one("mixture", ["lambda", "afr", "equivalence"]),
    theme: one("theme", ["system", "light", "dark"]),
    density: one("density", ["comfortable", "compact"]),
    shownUnits: texts(kept.shownUnits),
    flipRpm: one("flipRpm", [true, false]),
    flipLoad: one("flipLoad", [true, false]),
    zoom: typeof zoom === "number" && zoom >= 0.5 && zoom <= 2.5 ? zoom : usualPreferences.zoom,
    shading: one("shading", ["change", "value", "none"]),
    scheme: schemeOf(kept.scheme),
    guide: guideOf(kept.guide),
  };
}

/** Whether it could be kept. */
export function writePreferences(shelf: Shelf, preferences: Preferences): boolean {
  try {
    shelf.setItem(KEY, JSON.stringify(preferences));
    return true;
  } catch {
    return false;
  }
}

function texts(value: unknown): Record<string, string> {
  if (typeof value !== "object" || value === null) return {};
  return Object.fromEntries(
    Object.entries(value).filter((pair): pair is [string, string] => typeof pair[1] === "string"),
  );
}

function guideOf(value: unknown): Guide {
  const { state, done } = (value ?? {}) as { state?: unknown; done?: unknown };
  if ((state !== "on" && state !== "left") || !Array.isArray(done)) return usualPreferences.guide;
  return { state, done: done.filter((id) => typeof id === "string") };
}

function schemeOf(value: unknown): ColourScheme | null {
  try {
    return value ? createColourScheme(value as ColourScheme) : null;
  } catch {
    return null;
  }
}
