import type { PictureNode } from "@fuelwright/table-core";
import { expect, test } from "vitest";
import { drawNodes } from "./draw-nodes.ts";

const node = (
  tag: PictureNode["tag"],
  attributes: PictureNode["attributes"],
  content: string | readonly PictureNode[] = "",
): PictureNode =>
  typeof content === "string"
    ? { tag, attributes, children: [], text: content }
    : { tag, attributes, children: content, text: "" };

const svg = () => document.createElementNS("http://www.w3.org/2000/svg", "svg");

test("it makes a picture's elements, texts as text and never as markup", () => {
  const parent = svg();
  drawNodes(parent, [
    node("g", { class: "all" }, [node("text", { x: 1, y: 2 }, "<b>&"), node("path", { d: "M0,0H1" })]),
  ]);
  expect(parent.innerHTML).toBe('<g class="all"><text x="1" y="2">&lt;b&gt;&amp;</text><path d="M0,0H1"></path></g>');
  expect(parent.querySelector("path")).toBeInstanceOf(SVGPathElement);
});

test("elements that are there are kept, changed where they differ, and taken out when they are gone", () => {
  const parent = svg();
  drawNodes(parent, [
    node("path", { class: "was", d: "M0,0" }),
    node("path", { class: "now", d: "M1,1" }),
    node("text", {}, "a"),
  ]);
  const [first, second, text] = parent.children;
  drawNodes(parent, [node("path", { d: "M2,2" }), node("text", {}, "b")]);
  expect([...parent.children]).toEqual([first, text]);
  expect(first!.getAttributeNames()).toEqual(["d"]);
  expect(first!.getAttribute("d")).toBe("M2,2");
  expect(text!.textContent).toBe("b");
  expect(second!.isConnected).toBe(false);
  drawNodes(parent, [node("circle", { r: 1 }), node("path", { d: "M2,2" })]);
  expect(parent.innerHTML).toBe('<circle r="1"></circle><path d="M2,2"></path>');
  drawNodes(parent, []);
  expect(parent.childElementCount).toBe(0);
});
