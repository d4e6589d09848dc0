import { describe, expect, test } from "vitest";
import { demoJob } from "../../../store/demo-job.ts";
import { paragraph } from "./blocks.ts";
import { pageCss } from "./card-css.ts";
import { cardFile } from "./card-file.ts";
import { cssString } from "./escape.ts";
import { makeCard } from "./make-card.ts";
import { renderCard } from "./render-card.ts";
import { contextOf, cylinderJob, largeJob } from "./testing/jobs.ts";

const nasty = `</style><script>alert(1)</script><img src=x onerror="alert(1)">&'"`;

describe("renderCard", () => {
  test("escapes every text, wherever it comes from", () => {
    const job = {
      ...demoJob(),
      name: nasty,
      about: nasty,
      steps: demoJob().steps.map((step) => ({ ...step, note: nasty })),
    };
    const html = renderCard(
      makeCard(contextOf({ ...job, tables: job.tables.map((table) => ({ ...table, name: nasty })) })),
    );
    expect(html).not.toMatch(/<script|<img|<\/style/);
    expect(html).toContain("&lt;script&gt;alert(1)&lt;/script&gt;");
  });

  test("repeats both axes in every block of a table too wide for the paper", () => {
    const html = renderCard(makeCard(contextOf(largeJob(), { tables: "after" })));
    const tables = html.match(/<table class="cells[\s\S]*?<\/table>/g)!;
    expect(tables.length).toBeGreaterThan(3);
    for (const [at, table] of tables.entries()) {
      expect(table).toContain(`(part ${at + 1} of ${tables.length})`);
      expect(table.match(/<th scope="row">/g)).toHaveLength(40);
      expect(table.match(/<thead>[\s\S]*<th scope="col">[\s\S]*<\/thead>/)).not.toBeNull();
    }
    expect(html.match(/<td[^>]*>/g)!.length).toBeGreaterThan(2560);
  });

  test("keeps a figure and its percent sign together, and headings in order", () => {
    const card = {
      title: "t",
      running: "t",
      lead: [],
      sections: [{ id: "a", title: "b", blocks: [paragraph("85 % of it")] }],
    };
    expect(renderCard(card, 1)).toBe(
      `<header><p class="card-kind">Handover card</p><h1 class="card-title">t</h1></header>\n` +
        `<section id="card-a" aria-labelledby="card-a-title"><h2 class="card-part" id="card-a-title">b</h2><p>85\u00a0% of it</p></section>`,
    );
  });
});

describe("cardFile", () => {
  const file = cardFile(makeCard(contextOf(cylinderJob())), "letter");

  test("is one file that runs no script and fetches nothing", () => {
    expect(file).toContain(`content="default-src 'none'; style-src 'unsafe-inline'`);
    expect(file).not.toMatch(/<script|<link (?!rel="icon" href="data:,")|@import|url\(/i);
    const addresses = file.match(/\b(?:https?:)?\/\/[^\s"'<]+/g) ?? [];
    expect(new Set(addresses)).toEqual(new Set(["http://www.w3.org/2000/svg"]));
  });

  test("holds the paper it is for, and its title as text", () => {
    expect(file).toContain("size: letter;");
    expect(file).toContain("<title>Two tables &amp; &lt;one&gt; ride, handover card</title>");
  });
});

test("a running title can't end the string it stands in", () => {
  expect(cssString(`a"b\\</style>\n`)).toBe(`"a\\22 b\\5c \\3c \\2f style\\3e \\a "`);
  expect(pageCss("a4", nasty)).not.toMatch(/<|onerror=/);
});
