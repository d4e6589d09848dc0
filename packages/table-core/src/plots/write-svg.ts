import { FuelwrightError } from "../values/errors.ts";
import { fontFamily, lettering } from "./lettering.ts";
import type { Picture, PictureNode } from "./picture.ts";

/**
 * A picture as the text of an SVG document that stands alone: for a file, a page, or a converter.
 *
 * Title and description come first, for those who don't see it. Text is escaped, and characters that XML doesn't know are
 * replaced. No style sheet, no ids, no scripts, nothing fetched. O(nodes).
 *
 * @throws FuelwrightError `not-finite` for a number that has no place in a drawing
 * @example await writeFile("fuel.svg", writeSvg(plotTable(table, { before, inks: printInks })))
 */
export function writeSvg({ width, height, title, description, ground, nodes }: Picture): string {
  const ink = ground === "none" ? "" : `<rect width="${width}" height="${height}" fill="${escapeXml(ground)}"/>\n`;
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" ` +
    `font-family="${escapeXml(fontFamily)}" font-size="${lettering.text}" style="font-variant-numeric:tabular-nums">\n` +
    `<title>${escapeXml(title)}</title>\n<desc>${escapeXml(description)}</desc>\n${ink}` +
    `${nodes.map(writeNode).join("\n")}\n</svg>\n`
  );
}

function writeNode({ tag, attributes, children, text }: PictureNode): string {
  let open = `<${tag}`;
  for (const [name, value] of Object.entries(attributes)) {
    if (typeof value === "number" && !Number.isFinite(value))
      throw new FuelwrightError(
        "not-finite",
        `writeSvg: ${name} of a ${tag} must be a finite number, got ${value}; check the sizes that the plot was given`,
        { tag, name, value },
      );
    open += ` ${name}="${escapeXml(String(value))}"`;
  }
  if (children.length === 0 && text === "") return `${open}/>`;
  return `${open}>${escapeXml(text)}${children.map(writeNode).join("")}</${tag}>`;
}

const entities: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Anything but the characters of XML 1.0: control characters and halves of surrogate pairs can't be written in any way. */
const unknownToXml = /[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\u{10000}-\u{10ffff}]/gu;

const escapeXml = (text: string): string =>
  text.replace(unknownToXml, "\ufffd").replace(/[&<>"']/g, (letter) => entities[letter]!);
