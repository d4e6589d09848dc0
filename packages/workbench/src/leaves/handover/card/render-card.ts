import { writeSvg } from "@fuelwright/table-core";
import type { Block, Card, Facts, Grid, Point, PrintedCell, Section, Sentence } from "./blocks.ts";
import { escapeText as text } from "./escape.ts";

/**
 * The card as HTML: the same on the page, on paper and in a file of its own.
 *
 * Every text is escaped; pictures are SVG that the library wrote.
 *
 * @param top - the level of its title: 1 in a file of its own
 */
export function renderCard(card: Card, top: 1 | 2 = 2): string {
  return `<header><p class="card-kind">Handover card</p>${headed(top, "card-title", card.title)}${card.lead.map(sentence).join("")}</header>
${card.sections.map((one) => section(one, top + 1)).join("\n")}`;
}

const headed = (level: number, kind: string, words: string, id = "") =>
  `<h${level} class="${kind}"${id && ` id="${id}"`}>${text(words)}</h${level}>`;

const section = ({ id, title, blocks, ownPage }: Section, level: number) =>
  `<section id="card-${id}" aria-labelledby="card-${id}-title"${ownPage ? ' class="own-page"' : ""}>${headed(level, "card-part", title, `card-${id}-title`)}${blocks.map((one) => block(one, level + 1)).join("")}</section>`;

const sentence = ({ text: words, tone }: Sentence) =>
  tone === "warns"
    ? `<p class="warns"><b>Mind:</b> ${text(words)}</p>`
    : `<p${tone === "quiet" ? ' class="quiet"' : ""}>${text(words)}</p>`;

function block(one: Block, level: number): string {
  switch (one.kind) {
    case "paragraph":
      return sentence(one);
    case "heading":
      return headed(level, "card-sub", one.text);
    case "points":
      return one.from === undefined
        ? `<ul>${one.points.map(point).join("")}</ul>`
        : `<ol start="${one.from}">${one.points.map(point).join("")}</ol>`;
    case "facts":
      return facts(one);
    case "grid":
      return one.blocks.map((_, at) => gridBlock(one, at)).join("");
    case "picture":
      return `<figure>${writeSvg(one.picture)}<figcaption><b>${text(one.name)}.</b> ${text(one.words ?? one.picture.description)}</figcaption></figure>`;
    case "lines":
      return `<div class="lines">${one.labels.map((label) => `<div><span>${text(label)}</span></div>`).join("")}</div>`;
    case "checks":
      return `<ul class="checks">${one.points.map((words) => `<li>${text(words)}</li>`).join("")}</ul>`;
  }
}

const point = ({ text: words, more = [] }: Point) => `<li><p>${text(words)}</p>${more.map(sentence).join("")}</li>`;

/** Letters of what is not broken into lines. */
const SHORT = 26;

function facts({ label, heads, rows }: Facts): string {
  const head = heads
    ? `<thead><tr>${heads.map((words) => `<th scope="col">${text(words)}</th>`).join("")}</tr></thead>`
    : "";
  const body = rows
    .map(
      ([name = "", ...cells]) =>
        `<tr><th scope="row">${text(name)}</th>${cells.map((words) => `<td${words.length <= SHORT ? ' class="short"' : ""}>${text(words)}</td>`).join("")}</tr>`,
    )
    .join("");
  return `<div class="scroll" tabindex="0" role="group" aria-label="${text(label)}"><table class="facts" aria-label="${text(label)}">${head}<tbody>${body}</tbody></table></div>`;
}

/** Rows that stay together on one page; more would leave too much of a page blank before them. */
const MOST_ROWS_TOGETHER = 24;

function gridBlock({ label, corner, heads, rows, blocks, along, cellMm, keepWithNext }: Grid, at: number): string {
  const [from, to] = blocks[at]!;
  const range = `${heads[from]}–${heads[to - 1]} ${along}`;
  const name = blocks.length > 1 ? `${label}: ${range} (part ${at + 1} of ${blocks.length})` : label;
  const head = `<thead><tr><th class="name" colspan="${to - from + 1}">${text(name)}</th></tr><tr><th scope="col" class="corner">${text(corner)}</th>${heads
    .slice(from, to)
    .map((words) => `<th scope="col">${text(words)}</th>`)
    .join("")}</tr></thead>`;
  const body = rows
    .map((row) => `<tr><th scope="row">${text(row.head)}</th>${row.cells.slice(from, to).map(cell).join("")}</tr>`)
    .join("");
  const isWhole = rows.length <= MOST_ROWS_TOGETHER;
  return `<div class="scroll${isWhole && keepWithNext ? " kept" : ""}" tabindex="0" role="group" aria-label="${text(name)}"><table class="cells${isWhole ? " whole" : ""}" style="--cell:${cellMm.toFixed(1)}mm" aria-label="${text(name)}">${head}<tbody>${body}</tbody></table></div>`;
}

function cell({ text: words, change = "", signs = "" }: PrintedCell): string {
  const under = [change, signs].filter(Boolean).join(" ");
  const kinds = [change && "changed", signs.includes("!") && "ceiling", /[?~]/.test(signs) && "guess"].filter(Boolean);
  const figure = change ? `<b>${text(words)}</b>` : text(words);
  return `<td${kinds.length > 0 ? ` class="${kinds.join(" ")}"` : ""}>${figure}${under ? ` <i>${text(under)}</i>` : ""}</td>`;
}
