import fc from "fast-check";

const nested = (depth: number, leaf: unknown, wrap: (inner: unknown) => unknown): unknown => {
  let value = leaf;
  for (let at = 0; at < depth; at++) value = wrap(value);
  return value;
};

const awkwardWords = [
  ...[
    "",
    " ",
    "\u0000",
    "\uFEFF",
    "\uD800",
    "\u2028",
    "\r\n",
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
  ],
  ...["source", "t", "target", "rpm", "kPa", "lambda", "trim", "auto", "1e999", "=1+1", "<b>", "cell * 2", "%s"],
  ...["n".repeat(101), "n".repeat(20_000)],
];

const awkwardNumbers = [
  ...[0, -0, 1, -1, 0.5, 2, 64, 65, 255, 256, 257, 10_001, 65_537, 2 ** 31, 2 ** 32, 2 ** 53, 1e21],
  ...[Number.MIN_VALUE, 1e-300, -1e-300, 1e-9, 1e300, -1e300, Number.MAX_VALUE, -Number.MAX_VALUE],
];

const awkwardThings: readonly unknown[] = [
  ...[null, true, false, [], {}, [[]], [null], [0, 0], { length: 4_294_967_295 }, { length: 2, 0: 1, 1: 2 }],
  ...[{ toString: null }, { valueOf: 1 }, { toJSON: 1 }, { constructor: { prototype: { polluted: 1 } } }],
  ...[nested(40, 1, (inner) => [inner]), nested(800, 1, (inner) => [inner]), nested(800, 1, (a) => ({ a }))],
];

/** A value that readers of numbers and documents have trouble with. */
const awkward = fc.oneof(
  { weight: 3, arbitrary: fc.constantFrom<unknown>(...awkwardNumbers) },
  { weight: 2, arbitrary: fc.constantFrom<unknown>(...awkwardWords) },
  { weight: 2, arbitrary: fc.constantFrom<unknown>(...awkwardThings) },
  fc.jsonValue({ maxDepth: 2 }) as fc.Arbitrary<unknown>,
  fc.double() as fc.Arbitrary<unknown>,
);

type How = "put" | "scale" | "drop" | "double" | "swap" | "rename" | "add" | "many" | "wrap";

interface Wound {
  readonly at: number;
  readonly how: How;
  readonly other: number;
  readonly value: unknown;
  readonly key: string;
}

const wounds = fc.array(
  fc.record<Wound>({
    at: fc.nat(),
    how: fc.constantFrom("put", "put", "put", "scale", "drop", "double", "swap", "rename", "add", "many", "wrap"),
    other: fc.nat(),
    value: awkward,
    key: fc.constantFrom(
      "toString",
      "constructor",
      "prototype",
      "length",
      "0",
      "-1",
      "",
      "id",
      "unheardOf",
      "n".repeat(999),
    ),
  }),
  { minLength: 1, maxLength: 4 },
);

type Holder = Record<string, unknown>;
type Place = readonly [holder: Holder, key: string];

/** Every value of a document with where it stands. */
function placesOf(holder: Holder, found: Place[] = []): Place[] {
  for (const key of Object.keys(holder)) {
    found.push([holder, key]);
    const value = holder[key];
    // Parts that a wound has put in may be deep: they are not looked into.
    if (typeof value === "object" && value !== null && found.length < 3000) placesOf(value as Holder, found);
  }
  return found;
}

function wound(places: readonly Place[], { at, how, other, value, key: word }: Wound): void {
  const [holder, key] = places[at % places.length]!;
  const now = holder[key];
  const list = Array.isArray(holder) ? holder : null;
  if (how === "drop") {
    if (list) list.splice(Number(key), 1);
    else delete holder[key];
  } else if (how === "double" && list) list.splice(Number(key), 0, now);
  else if (how === "scale" && typeof now === "number") holder[key] = now * (0.5 + (other % 100) / 70);
  else if (how === "swap") {
    const [holderThere, keyThere] = places[other % places.length]!;
    holder[key] = holderThere[keyThere];
    holderThere[keyThere] = now;
  } else if (how === "rename" && !list) {
    delete holder[key];
    holder[word] = now;
  } else if (how === "add" && !list) holder[word] = value;
  else if (how === "many" && list) for (let n = other % 600; n > 0; n--) list.push(now);
  else if (how === "wrap") holder[key] = other % 2 ? [now] : { [word]: now };
  else holder[key] = value;
}

/** Documents of plain data, spoilt in some places: values lost, doubled, swapped, renamed, out of all measure or of another kind. */
export const brokenData = (documents: fc.Arbitrary<object>): fc.Arbitrary<object> =>
  fc.tuple(documents, wounds).map(([document, list]) => {
    const copy = { whole: JSON.parse(JSON.stringify(document)) as unknown };
    const places = placesOf(copy.whole as Holder);
    for (const each of list) wound(places, each);
    return copy.whole as object;
  });

const jsonPieces = [
  ...[
    "",
    "{",
    "}",
    "[",
    "]",
    ",",
    ":",
    '"',
    "\\",
    "\\u0000",
    "\\ud800",
    "null",
    "true",
    "-",
    "0",
    "1e999",
    "-0",
    "1e-999",
  ],
  ...["NaN", "Infinity", "00", "0x1", "'", "\u0000", "\uFEFF", "\uD800", "\u2028", "\r", "\n", "\t", "//", "/*", "#"],
  ...['"__proto__":{"polluted":1},', '"constructor":{"prototype":{"polluted":1}},', '{"__proto__":[1]}', '"id":"id",'],
  ...["[".repeat(3000), '{"a":'.repeat(3000), "9".repeat(400), " ".repeat(5000)],
];

/** Texts with places cut out, written over, doubled or moved, or the whole cut short. */
export const brokenText = (texts: fc.Arbitrary<string>, pieces: readonly string[] = jsonPieces): fc.Arbitrary<string> =>
  fc
    .tuple(
      texts,
      fc.array(
        fc.record({
          at: fc.double({ min: 0, max: 1, noNaN: true }),
          length: fc.oneof(fc.nat(3), fc.nat(60)),
          how: fc.constantFrom("write", "write", "double", "move", "short", "ends", "mark"),
          to: fc.double({ min: 0, max: 1, noNaN: true }),
          piece: fc.oneof(fc.constantFrom(...pieces), fc.string({ unit: "binary", maxLength: 4 })),
        }),
        { minLength: 1, maxLength: 4 },
      ),
    )
    .map(([whole, changes]) => {
      let text = whole;
      for (const { at, length, how, to, piece } of changes) {
        const place = Math.floor(at * text.length);
        const span = text.slice(place, place + length);
        const rest = text.slice(0, place) + text.slice(place + length);
        const there = Math.floor(to * rest.length);
        if (how === "write") text = text.slice(0, place) + piece + text.slice(place + length);
        else if (how === "double") text = text.slice(0, place) + span + text.slice(place);
        else if (how === "move") text = rest.slice(0, there) + span + rest.slice(there);
        else if (how === "short") text = text.slice(0, place);
        else if (how === "ends") text = text.replaceAll("\n", "\r\n");
        else text = `\uFEFF${text}`;
      }
      return text;
    });
