import { createBuild, createJob, type Job } from "@fuelwright/table-core";
import { describe, expect, test } from "vitest";
import { demoJob, emptyJob } from "../../../store/demo-job.ts";
import { usualPreferences } from "../../../store/preferences.ts";
import { sayStep } from "../../../store/say-step.ts";
import type { Block, Card, Grid, Section } from "./blocks.ts";
import { makeCard } from "./make-card.ts";
import { renderCard } from "./render-card.ts";
import { contextOf, cylinderJob, largeJob } from "./testing/jobs.ts";

const cardOf = (job: Job, settings: Parameters<typeof contextOf>[1] = {}) => makeCard(contextOf(job, settings));
const section = (card: Card, id: string): Section => card.sections.find((one) => one.id === id)!;
const grids = (card: Card): Grid[] => section(card, "tables").blocks.filter((block) => block.kind === "grid");

/** All words of a block, as they would be read. */
function words(block: Block): string[] {
  switch (block.kind) {
    case "paragraph":
    case "heading":
      return [block.text];
    case "points":
      return block.points.flatMap(({ text, more = [] }) => [text, ...more.map((one) => one.text)]);
    case "facts":
      return [...(block.heads ?? []), ...block.rows.map((row) => row.join(" | "))];
    case "picture":
      return [block.words ?? block.picture.description];
    case "lines":
      return [...block.labels];
    case "checks":
      return [...block.points];
    case "grid":
      return [block.label];
  }
}
const textOf = (card: Card, id: string) => section(card, id).blocks.flatMap(words).join("\n");

describe("the demo's card", () => {
  const job = demoJob();
  const card = cardOf(job);

  test("says in the first line, at the first start and on every page that its figures are invented", () => {
    expect(card.lead[0]!.text).toMatch(/every figure on this card is invented/i);
    expect(card.running).toContain("invented");
    expect(textOf(card, "first-start")).toContain("Every figure is invented");
    expect(cardOf({ ...job, invented: false }).running).not.toContain("invented");
  });

  test("has its parts in the order in which they are read", () => {
    expect(card.sections.map(({ id }) => id)).toEqual([
      "parts",
      "steps",
      "ceilings",
      "evidence",
      "pictures",
      "tables",
      "first-start",
      "cautions",
      "sign-off",
    ]);
  });

  test("tells which injectors go out and which come in, with fuel and place", () => {
    const text = textOf(card, "parts");
    expect(text).toMatch(/^Injectors \| first set, as built, 2\.30 g\/s at 300 kPa.* \| larger set, 3\.05 g\/s/m);
    expect(text).toMatch(/^Fuel \| petrol, stoichiometric 14\.60 : 1/m);
    expect(text).toMatch(/^Place \| 4 m, 17 °C/m);
    expect(text).toMatch(/^Pump \| .* \| the same$/m);
  });

  test("says every step as a sentence, with its reason and what it changed", () => {
    const [list] = section(card, "steps").blocks;
    expect(list).toMatchObject({ kind: "points", from: 1 });
    const text = textOf(card, "steps");
    for (const step of job.steps) {
      const { title, detail } = sayStep(step, job);
      expect(text).toContain(`${title}, ${detail}`);
      expect(text.toLowerCase()).toContain(`why: ${step.note}.`.toLowerCase());
    }
    expect(text).toContain("Both cylinders: 150 cells changed");
    expect(text).toContain("Every cell delivers the same fuel as before.");
  });

  test("says which part runs out first, and which cells are at which ceiling", () => {
    const text = textOf(card, "ceilings");
    expect(text).toMatch(/^First to (run|give) out: Intake/m);
    expect(text).toMatch(/^Injectors \| in hand, 26 % \|/m);
    expect(text).toContain("6 cells, 4,500–6,800 rpm, 100 kPa");
    expect(text).toContain("discharge coefficient");
  });

  test("says that nothing is proven where no log was brought in", () => {
    expect(textOf(card, "evidence")).toContain("Nothing in these tables is proven");
  });

  test("prints each table before and after, changed cells with sign and percent, cells at a ceiling with their sign", () => {
    expect(grids(card).map(({ label }) => label)).toEqual([
      "Both cylinders, before, ms",
      "Both cylinders, after, ms",
      "Mixture wished for, before, lambda",
      "Mixture wished for, after, lambda",
    ]);
    const [before, after, , mixture] = grids(card);
    // As on the grid: load upward, rpm to the right.
    expect(after!.rows.map(({ head }) => head)).toEqual("100 90 80 70 60 50 40 32 26 20".split(" "));
    expect(after!.heads[0]).toBe("900");
    expect(before!.rows[0]!.cells[0]).toEqual({ text: "13.28" });
    expect(after!.rows[0]!.cells[0]).toEqual({ text: "10.38", change: "−21.8" });
    expect(after!.rows[0]!.cells[14]).toMatchObject({ text: "11.91", signs: "!" });
    expect(mixture!.rows[9]!.cells[0]).toEqual({ text: "0.960" });
    expect(textOf(card, "tables")).toContain("! at a ceiling of the hardware");
    expect(textOf(card, "tables")).not.toContain("L locked");
  });

  test("lays a table before and after on one page, columns under columns", () => {
    const [before, after, wished, mixture] = grids(card);
    // Alone the table before is narrower: it has nothing under its figures.
    expect([before!.cellMm, wished!.cellMm]).toEqual([after!.cellMm, mixture!.cellMm]);
    expect(grids(card).map(({ keepWithNext }) => keepWithNext ?? false)).toEqual([true, false, true, false]);
    const html = renderCard(card);
    expect(html.match(/<div class="scroll kept"/g)).toHaveLength(2);
    expect(html.split(`style="--cell:${after!.cellMm.toFixed(1)}mm" aria-label="Both cylinders`)).toHaveLength(3);
  });

  test("has a picture of each kind, each with words of its own", () => {
    const pictures = section(card, "pictures").blocks.filter((block) => block.kind === "picture");
    for (const what of ["slice-rpm", "slice-load", "map", "changes", "ceilings", "demand-pump"])
      expect(pictures.map(({ id }) => id)).toContain(`fuel-${what}`);
    for (const { picture } of pictures) expect(picture.description.length).toBeGreaterThan(30);
    expect(new Set(pictures.map(({ picture }) => picture.width)).size).toBe(1);
  });

  test("gives cautions, and lines to sign", () => {
    const cautions = textOf(card, "cautions");
    for (const word of ["detonates", "vapour burns", "wideband", "passenger", "noise law", "licensed practice"])
      expect(cautions).toContain(word);
    const lines = textOf(card, "sign-off");
    for (const label of ["Done by", "Checked by", "Date", "First start witnessed by"]) expect(lines).toContain(label);
  });

  test("gives cells to read back from the controller, corners and the one that changed most", () => {
    expect(textOf(card, "first-start")).toContain("Both cylinders | 6,800 rpm | 100 kPa | 11.91 ms");
  });

  test("follows the units and the way of saying a mixture that its reader prefers", () => {
    const there = cardOf(job, { preferences: { ...usualPreferences, units: "imperial", mixture: "afr" } });
    expect(textOf(there, "parts")).toMatch(/^Rail \| 43\.\d+ psi/m);
    expect(textOf(there, "steps")).toContain("psi");
    const [, after, mixture] = grids(there);
    expect(after!.corner).toBe("psi \\ rpm");
    expect(after!.rows[0]!.head).toBe("14.5");
    expect(mixture!.label).toBe("Mixture wished for, before, AFR");
    // 0.85 × 14.6
    expect(mixture!.rows[0]!.cells[0]!.text).toBe("12.41");
    const turned = cardOf(job, { preferences: { ...usualPreferences, flipRpm: true, flipLoad: true } });
    expect(grids(turned)[1]!.heads[0]).toBe("6,800");
    expect(grids(turned)[1]!.rows[0]!.head).toBe("20");
    expect(grids(turned)[1]!.rows[9]!.cells[14]!.text).toBe("10.38");
  });
});

describe("a job of two cylinders, one ride and steps of all fates", () => {
  const card = cardOf(cylinderJob());

  test("says which steps are off or passed over, and why", () => {
    const text = textOf(card, "steps");
    expect(text).toContain("Switched off: it is not in the tables handed over.");
    expect(text).toMatch(/Passed over, and not in the tables handed over: .*"gone" is not in the job/);
    expect(text).toContain("No reason was written down.");
    expect(card.lead.map(({ text: line }) => line).join()).toContain("5 steps carried out, 2 off or passed over");
  });

  test("prints both cylinders, the untouched table once", () => {
    expect(grids(card).map(({ label }) => label)).toEqual([
      "Front (cylinder 1), before, ms",
      "Front (cylinder 1), after, ms",
      "Rear (cylinder 2), before, ms",
      "Rear (cylinder 2), after, ms",
      "Mixture wished for, as brought in, lambda",
    ]);
  });

  test("marks locked, guessed and extrapolated cells each with a sign of its own, and explains them", () => {
    const rear = grids(card)[3]!;
    const cell = (load: string, rpm: string) =>
      rear.rows.find(({ head }) => head === load)!.cells[rear.heads.indexOf(rpm)]!;
    expect(cell("20", "900").signs).toBe("L");
    expect(cell("90", "5,500")).toMatchObject({ change: expect.stringMatching(/^\+/), signs: "?" });
    expect(cell("40", "7,200")).toMatchObject({ change: "new", signs: "~" });
    expect(cell("100", "7,200").signs).toBe("!~");
    for (const line of ["L locked", "? a first guess", "~ extrapolated", "! at a ceiling"])
      expect(textOf(card, "tables")).toContain(line);
  });

  test("says what is proven, what changed since, and where nothing was seen", () => {
    const text = textOf(card, "evidence");
    expect(text).toContain("ride-1.csv. 4,200 readings over 3 min 30 s");
    expect(text).toContain("Only a short ride.");
    expect(text).toContain("Front: 23 cells of 150 proven");
    expect(text).toContain(
      "Nothing proven anywhere at 900, 1,200, 1,500, 5,500, 6,000, 6,400, 6,800 rpm; nor at 20, 26, 32, 70, 80, 90, 100 kPa.",
    );
    expect(text).toContain("No log speaks for this table");
    const map = section(card, "evidence").blocks.find((block) => block.kind === "grid")!;
    const letters = map.rows.flatMap(({ cells }) => cells.map(({ text: letter }) => letter));
    const count = (letter: string) => letters.filter((one) => one === letter).length;
    expect(["C", "S", "x", "f", "·"].map(count)).toEqual([15, 8, 1, 8, 118]);
  });

  test("minds the first guesses at the first start", () => {
    expect(textOf(card, "first-start")).toContain("Rear: 20 cells hold a first guess");
  });
});

describe("what the hardware can't give", () => {
  test("is told before anything else, with the mixture that arrives, worst first", () => {
    const demo = demoJob();
    const { pump } = demo.build;
    const weak = {
      ...pump!,
      curve: pump!.curve.map((point) => ({ ...point, litresPerHour: point.litresPerHour * 0.6 })),
    };
    const card = cardOf({ ...demo, build: createBuild({ ...demo.build, pump: weak }) });
    expect(card.lead.map(({ text }) => text).join()).toMatch(/Lean under load in \d+ cells/);
    expect(textOf(card, "ceilings")).toMatch(/^First to give out: Pump, gives out from/m);
    const arrives = section(card, "ceilings").blocks.find(
      (block) => block.kind === "facts" && block.heads?.[2] === "fuel missing",
    );
    const rows = arrives?.kind === "facts" ? arrives.rows : [];
    const missing = rows.map((row) => Number.parseFloat(row[2]!));
    expect(missing[0]).toBeGreaterThan(10);
    expect(missing).toEqual(missing.toSorted((a, b) => b - a));
    // Asked over what share of the fuel is left.
    expect(Number(rows[0]![4])).toBeCloseTo(Number(rows[0]![3]) / (1 - missing[0]! / 100), 2);
    expect(textOf(card, "first-start")).toContain("stay out of there until a part is changed");
  });
});

describe("a job that is not done", () => {
  test("says what is not looked at where the build is incomplete", () => {
    const demo = demoJob();
    const { pump: _, throttleBody: __, manifold: ___, ...build } = demo.build;
    const text = textOf(cardOf({ ...demo, build }), "ceilings");
    expect(text).toContain("Not looked at: pump, intake.");
    expect(text).toMatch(/^Pump \| not looked at/m);
    expect(textOf(cardOf({ ...demo, build }), "parts")).toContain("Not described: pump, throttle body, manifold.");
  });

  test("says that the injectors are not said yet, and that nothing was done", () => {
    const job = createJob({ ...emptyJob(null), tables: demoJob().tables });
    expect(textOf(cardOf(job), "parts")).toContain("The injectors are not said yet");
    expect(textOf(cardOf(job), "steps")).toMatch(/^Nothing yet/);
  });

  test("says that ceilings take a table that meters fuel", () => {
    const demo = demoJob();
    const job = createJob({ ...demo, tables: [demo.tables[1]!], steps: [] });
    expect(textOf(cardOf(job), "ceilings")).toContain("Not looked at");
  });
});

describe("tables on the card", () => {
  test("can be those after alone, or left out with a word about it", () => {
    expect(grids(cardOf(demoJob(), { tables: "after" })).map(({ label }) => label)).toEqual([
      "Both cylinders, after, ms",
      "Mixture wished for, after, lambda",
    ]);
    const none = cardOf(demoJob(), { tables: "none" });
    expect(grids(none)).toEqual([]);
    expect(textOf(none, "tables")).toContain("Left out of this card: Both cylinders, Mixture wished for.");
  });

  test("are broken alike before and after, so that columns can be laid beside each other", () => {
    const [before, after] = grids(cardOf(largeJob()));
    expect(before!.blocks.length).toBeGreaterThan(3);
    expect(after!.blocks).toEqual(before!.blocks);
  });
});
