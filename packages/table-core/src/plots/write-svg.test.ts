import fc from "fast-check";
import { expect, test } from "vitest";
import { parseXml } from "../../testing/pictures.ts";
import { after, before } from "../../testing/plotted.ts";
import { node, type Picture } from "./picture.ts";
import { plotTable } from "./plot-table.ts";
import { writeSvg } from "./write-svg.ts";

const pictureOf = (text: string): Picture => ({
  width: 100,
  height: 50,
  title: text,
  description: text,
  ground: "#ffffff",
  nodes: [node("g", { class: text }, [node("text", { x: 1, y: 2 }, text)])],
});

test("a hostile name comes back whole from an XML parser, and makes no element", () => {
  const name = `<b>&"'</b></desc></svg><script>alert(1)</script>]]>`;
  const document = parseXml(writeSvg(pictureOf(name)));
  expect(document.documentElement!.tagName).toBe("svg");
  expect(document.getElementsByTagName("script")).toHaveLength(0);
  expect(document.getElementsByTagName("b")).toHaveLength(0);
  for (const tag of ["title", "desc", "text"]) expect(document.getElementsByTagName(tag)[0]!.textContent).toBe(name);
  expect(document.getElementsByTagName("g")[0]!.getAttribute("class")).toBe(name);
  const table = { ...after, name };
  const whole = parseXml(writeSvg(plotTable(table, { before: { ...before, name } })));
  expect(whole.getElementsByTagName("title")[0]!.textContent).toBe(name);
});

test("any text at all makes a valid document; what XML can't hold is replaced, the rest comes back", () => {
  const texts = fc.oneof(
    fc.string({ unit: "binary" }),
    fc.string(),
    fc.array(fc.nat(0xffff)).map((units) => String.fromCharCode(...units)),
  );
  fc.assert(
    fc.property(texts, (text) => {
      const read = parseXml(writeSvg(pictureOf(text))).getElementsByTagName("desc")[0]!.textContent!;
      // Parsers give one line end for all (XML 1.0, section 2.11).
      const lines = (from: string) => from.replace(/\r\n?/g, "\n");
      const valid = (letter: string) => {
        const code = letter.codePointAt(0)!;
        if (code < 0x20) return code === 9 || code === 10 || code === 13;
        return !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff;
      };
      expect(read).toBe(lines([...text].map((letter) => (valid(letter) ? letter : "\ufffd")).join("")));
    }),
    { numRuns: 60 },
  );
});

test("the document says what it is, how large, and stands on its ground", () => {
  const svg = parseXml(writeSvg(pictureOf("plain"))).documentElement!;
  expect(svg.namespaceURI).toBe("http://www.w3.org/2000/svg");
  expect(svg.getAttribute("role")).toBe("img");
  expect(svg.getAttribute("viewBox")).toBe("0 0 100 50");
  expect(svg.getElementsByTagName("rect")[0]!.getAttribute("fill")).toBe("#ffffff");
  expect(parseXml(writeSvg({ ...pictureOf("plain"), ground: "none" })).getElementsByTagName("rect")).toHaveLength(0);
});

test("it needs no style sheet, id, script or other file", () => {
  const text = writeSvg(plotTable(after, { before }));
  expect(text).not.toMatch(/\b(id|href|src|class)="[^"]*(url|#|http)|url\(|<style|<script|<image|var\(/);
  expect(text.match(/https?:/g)).toHaveLength(1);
});

test("a number that has no place is refused, with its name", () => {
  const picture = { ...pictureOf("plain"), nodes: [node("line", { x1: Number.NaN })] };
  expect(() => writeSvg(picture)).toThrow(/x1 of a line must be a finite number, got NaN/);
});
