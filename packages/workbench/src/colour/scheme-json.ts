import { type ColourScheme, createColourScheme, FuelwrightError } from "@fuelwright/table-core";

const KIND = "fuelwright-colour-scheme";
const VERSION = 1;
/** A scheme takes about 250 characters; a longer text is something else. */
const LONGEST = 4000;
const KEYS = ["kind", "version", "name", "less", "middle", "more", "span", "steps"];

/** A scheme as text to share: JSON on a few lines, the same for the same scheme. */
export function schemeToJson(scheme: ColourScheme): string {
  const { name, less, middle, more, span, steps } = createColourScheme(scheme);
  return `${JSON.stringify({ kind: KIND, version: VERSION, name, less, middle, more, span, steps }, null, 2)}\n`;
}

/**
 * The scheme in a shared text.
 *
 * @throws FuelwrightError `bad-scheme` where the text is no scheme, `newer-version` where a later program wrote it, and
 *   what `createColourScheme` throws for its colours, span and steps
 */
export function schemeFromJson(text: string): ColourScheme {
  if (text.length > LONGEST)
    throw bad(`the text must have at most ${LONGEST} characters, got ${text.length}; paste one scheme alone`);
  let data: Record<string, unknown>;
  try {
    data = JSON.parse(text);
  } catch {
    throw bad("the text must be JSON; paste the whole of it, from { to }");
  }
  if (typeof data !== "object" || data === null || data.kind !== KIND)
    throw bad(`the text must hold an object of kind "${KIND}"; copy it again from where the scheme is`);
  if (data.version !== VERSION)
    throw new FuelwrightError(
      "newer-version",
      `schemeFromJson: version must be ${VERSION}, got ${JSON.stringify(data.version)?.slice(0, 20)}; update this program`,
      { version: data.version },
    );
  // Also refuses "__proto__", which JSON.parse makes a key like any other.
  const stranger = Object.keys(data).find((key) => !KEYS.includes(key));
  if (stranger !== undefined)
    throw bad(`${JSON.stringify(stranger.slice(0, 40))} is not a key of a scheme; take it out`);
  return createColourScheme(data as unknown as ColourScheme, "schemeFromJson: scheme");
}

const bad = (rest: string) => new FuelwrightError("bad-scheme", `schemeFromJson: ${rest}`);
