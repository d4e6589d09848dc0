import { DOMParser } from "@xmldom/xmldom";
import { textWidth } from "../src/plots/lettering.ts";
import type { Picture, PictureNode } from "../src/plots/picture.ts";

/** All nodes of a picture, children after their parents. */
export function* nodesOf(nodes: readonly PictureNode[]): Generator<PictureNode> {
  for (const each of nodes) {
    yield each;
    yield* nodesOf(each.children);
  }
}

/** The nodes of a class, "changed" as well as "cell changed". */
export const ofClass = ({ nodes }: Pick<Picture, "nodes">, name: string): PictureNode[] =>
  [...nodesOf(nodes)].filter(({ attributes }) =>
    String(attributes.class ?? "")
      .split(" ")
      .includes(name),
  );

/** The corners that a node reaches, in px. */
export function cornersOf({ tag, attributes, text }: PictureNode): (readonly [x: number, y: number])[] {
  const at = (name: string) => Number(attributes[name] ?? 0);
  switch (tag) {
    case "g":
      return [];
    case "line":
      return [
        [at("x1"), at("y1")],
        [at("x2"), at("y2")],
      ];
    case "rect":
      return [
        [at("x"), at("y")],
        [at("x") + at("width"), at("y") + at("height")],
      ];
    case "circle":
      return [
        [at("cx") - at("r"), at("cy") - at("r")],
        [at("cx") + at("r"), at("cy") + at("r")],
      ];
    case "text": {
      const size = Number(attributes["font-size"] ?? 11);
      const width = textWidth(text, size, attributes["font-weight"] === "bold");
      const anchor = attributes["text-anchor"];
      const left = at("x") - (anchor === "end" ? width : anchor === "middle" ? width / 2 : 0);
      return [
        [left, at("y") - size * 0.75],
        [left + width, at("y") + size * 0.2],
      ];
    }
    case "path":
      return pathPoints(String(attributes.d));
  }
}

/** The points of a path of M, L, H, V and Z. */
export function pathPoints(d: string): (readonly [x: number, y: number])[] {
  const points: (readonly [number, number])[] = [];
  let [x, y] = [0, 0];
  let rest = d;
  while (rest !== "") {
    const [whole, command, numbers] = /^([MLHVZ])([-\d.,]*)/.exec(rest) ?? [];
    if (whole === undefined) throw new Error(`pathPoints: ${rest.slice(0, 40)} is none of M, L, H, V, Z`);
    const [a = Number.NaN, b = Number.NaN] = numbers!.split(",").filter(Boolean).map(Number);
    if (command === "M" || command === "L") [x, y] = [a, b];
    if (command === "H") x = a;
    if (command === "V") y = a;
    points.push([x, y]);
    rest = rest.slice(whole.length);
  }
  return points;
}

/** Numbers that are none, and marks that reach outside the picture. */
export function faultsOf(picture: Picture): string[] {
  const faults: string[] = [];
  const slack = 0.5;
  for (const each of nodesOf(picture.nodes)) {
    for (const [name, value] of Object.entries(each.attributes))
      if (typeof value === "number" ? !Number.isFinite(value) : /NaN|Infinity|undefined/.test(value))
        faults.push(`${each.tag} ${name}=${value}`);
    for (const [x, y] of cornersOf(each))
      if (!(x >= -slack && y >= -slack && x <= picture.width + slack && y <= picture.height + slack))
        faults.push(
          `${each.tag} ${each.attributes.class ?? ""} "${each.text}" reaches ${x}, ${y} of ${picture.width}, ${picture.height}`,
        );
  }
  return faults;
}

/** An SVG text as a general XML parser has it. @throws at the first fault, also at those that such parsers usually forgive */
export function parseXml(text: string) {
  const parser = new DOMParser({
    onError: (level, message) => {
      // A warning that the text may have been in another encoding; here it is meant.
      if (!message.startsWith("Unicode replacement character")) throw new Error(`${level}: ${message}`);
    },
  });
  return parser.parseFromString(text, "image/svg+xml");
}
