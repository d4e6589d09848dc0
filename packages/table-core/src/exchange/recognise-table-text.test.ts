import { describe, expect, test } from "vitest";
import { type RecognisedTableText, recogniseTableText, type TableTextHints } from "./recognise-table-text.ts";
import type { Recognised } from "./recognised.ts";

const values = (text: string, hints?: TableTextHints) => {
  const recognised = recogniseTableText(text, hints);
  return Object.fromEntries(
    Object.entries(recognised).map(([key, item]) => [
      key,
      item !== null && typeof item === "object" && "value" in item ? item.value : item,
    ]),
  ) as { [K in keyof RecognisedTableText]: RecognisedTableText[K] extends Recognised<infer T> ? T : unknown };
};

test("each item has a sentence, and no alternative that is the value itself", () => {
  const recognised = recogniseTableText("Main\nrpm\\kPa;1.000;2.000\n40;2,1;2,3\n80;3,9;4,2");
  let items = 0;
  for (const item of Object.values(recognised)) {
    if (item === null || typeof item !== "object" || !("reason" in item)) continue;
    items++;
    expect(item.reason).toMatch(/^[A-Z0-9“].*\.$/);
    expect(item.alternatives).not.toContain(item.value);
  }
  expect(items).toBe(18);
  expect(recognised.decimal).toEqual({
    value: ",",
    sure: true,
    reason: "4 numbers can only be read with a decimal comma.",
    alternatives: ["."],
  });
});

describe("delimiter and signs", () => {
  test.each([
    ["1.5 among commas", ",1000,2000\n40,2.1,2.3\n80,3.9,4.2", ",", ".", "none"],
    ["1,5 among semicolons", ";1000;2000\n40;2,1;2,3\n80;3,9;4,2", ";", ",", "none"],
    ["1,5 among tabs", "\t1000\t2000\n40\t2,1\t2,3\n80\t3,9\t4,2", "\t", ",", "none"],
    ["1,5 in quotes among commas", ',1000,2000\n40,"2,1","2,3"\n80,"3,9",4', ",", ",", "none"],
    ["blanks", "       1000  2000\n 40  2.1   2.3\n 80  3.9  4.2", " ", ".", "none"],
    ["blanks and 1,5", "load 1000 2000\n40 2,1 2,3\n80 3,9 4,2", " ", ",", "none"],
    ["blanks behind commas", ", 1000, 2000\n40, 2.1, 2.3\n80, 3.9, 4.2", ",", ".", "none"],
    ["1,200 in quotes", ',"1,200","1,400"\n40,2.1,2.3\n80,3.9,4.2', ",", ".", ","],
    ["1,200 among tabs, cells whole", "\t1,200\t1,400\n40\t2\t3\n80\t4\t5", "\t", ".", ","],
    ["1.200 with a decimal comma", ";1.200;1.400\n40;2,1;2,3\n80;3,9;4,2", ";", ",", "."],
    ["1 200", "\t1 200\t1\u00A0400\n40\t2,1\t2,3\n80\t3,9\t4,2", "\t", ",", " "],
    ["1'200", ";1'200;1'400\n40;2.1;2.3\n80;3.9;4.2", ";", ".", " "],
    ["1,234.5 proves both", "\t1000\t2000\n40\t1,234.5\t2,000\n80\t3,000\t4,100", "\t", ".", ","],
    ["1.105 alone is one and a bit", ";1000;2000\n40;1.105;1.207\n80;1.305;1.411", ";", ".", "none"],
    ["1,105 alone, not among commas", ";1000;2000\n40;1,105;1,207\n80;1,305;1,411", ";", ",", "none"],
    ["a line that names it", "sep=;\n;1000;2000\n40;2;3\n80;4;5", ";", ".", "none"],
  ])("%s", (_, text, delimiter, decimal, thousands) => {
    expect(values(text)).toMatchObject({ delimiter, decimal, thousands, problem: null });
  });

  test("thousands are taken out of the numbers, decimals are not", () => {
    expect(recogniseTableText(',"1,200","1,400"\n40,2.1,2.3\n80,3.9,4.2').rpmDirection.reason).toContain(
      "1200 to 1400",
    );
    expect(recogniseTableText(";1.200;12.400\n40;2,1;2,3\n80;3,9;4,2").orientation.reason).toContain("1200 to 12400");
  });

  test("a guess says so, and can be put right", () => {
    const text = ',1000,2000\n40,"1,105","1,207"\n80,"1,305","1,411"';
    const guess = recogniseTableText(text);
    expect(guess.decimal).toMatchObject({ value: ".", sure: false, alternatives: [","] });
    expect(recogniseTableText(text, { decimal: "," }).decimal).toMatchObject({ value: ",", sure: true });
  });

  test("line ends and byte order mark", () => {
    const text = ",1000,2000\n40,2.1,2.3\n80,3.9,4.2\n";
    expect(values(text)).toMatchObject({ lineEnd: "\n", bom: false });
    expect(values(`\uFEFF${text.replaceAll("\n", "\r\n")}`)).toMatchObject({ lineEnd: "\r\n", bom: true });
    expect(values(text.replaceAll("\n", "\r"))).toMatchObject({ lineEnd: "\r" });
    expect(recogniseTableText(`${text}\r\n`).lineEnd.reason).toContain("several ways");
  });
});

describe("axes", () => {
  test.each([
    ["numbers decide against the corner's order", "rpm\\kPa,1000,6000\n40,2,3\n80,4,5", "rpm-across", true],
    ["numbers down the side", "kPa\\rpm,40,80\n1000,2,3\n6000,4,5", "rpm-down", true],
    ["the corner's order where numbers do not decide", "rpm\\kPa,100,200\n40,2,3\n80,4,5", "rpm-down", false],
    ["load first", "kPa / rpm,100,200\n40,2,3\n80,4,5", "rpm-across", false],
    ["said outright", "rpm down \\ kPa across,1000,6000\n40,2,3\n80,4,5", "rpm-down", true],
    ["a line of names over the header", ",Engine speed (rpm)\nkPa,100,200\n40,2,3\n80,4,5", "rpm-across", true],
    ["a column of names", ",,100,200\nrpm,40,2,3\n,80,4,5", "rpm-down", true],
    ["nothing", ",100,200\n40,2,3\n80,4,5", "rpm-across", false],
  ])("orientation: %s", (_, text, orientation, sure) => {
    expect(recogniseTableText(text).orientation).toMatchObject({ value: orientation, sure });
  });

  test.each([
    ["kPa\\rpm,1000,6000\n40,2,3\n80,4,5", "manifold-pressure", "kPa"],
    ["rpm / MAP (psi),1000,6000\n6,2,3\n12,4,5", "manifold-pressure", "psi"],
    ["throttle [%],1000,6000\n0,2,3\n90,4,5", "throttle-position", "%"],
    ["air charge,1000,6000\n100,2,3\n500,4,5", "air-charge", "mg"],
    ["load (mg/stroke),1000,6000\n100,2,3\n500,4,5", "air-charge", "mg"],
    ["load,1000,6000\n40 mbar,2,3\n900 mbar,4,5", "manifold-pressure", "mbar"],
    [",1000,6000\n0,2,3\n50,3,4\n100,4,5", "throttle-position", "%"],
    [",1000,6000\n0,2,3\n1,4,5", "throttle-position", "fraction"],
    [",1000,6000\n20,2,3\n100,4,5", "manifold-pressure", "kPa"],
    [",1000,6000\n0.2,2,3\n1.0,4,5", "manifold-pressure", "bar"],
    [",1000,6000\n200,2,3\n1000,4,5", "manifold-pressure", "hPa"],
  ])("load: %j", (text, loadQuantity, loadUnit) => {
    expect(values(text)).toMatchObject({ loadQuantity, loadUnit, orientation: "rpm-across", problem: null });
  });

  test.each([
    ["coolant temperature (°C),0,40\nfactor,1.4,1", "coolant-temperature", "°C"],
    ["intake air temp [degF],0,40\n%,10,2", "air-temperature", "°F"],
    ["volts,10,14\nms,1.2,0.8", "battery-voltage", "V"],
    ["barometer (hPa),700,1013\nfactor,0.9,1", "barometric-pressure", "hPa"],
    ["8,12,16\n1.4,0.9,0.7", "battery-voltage", "V"],
    ["60,80,101\n0.9,0.95,1", "barometric-pressure", "kPa"],
    ["1000,3000,6000\n0.9,0.95,1", "rpm", "rpm"],
    ["-20,0,40\n1.5,1.3,1.1", "coolant-temperature", "°C"],
    ["\uFFFDC,-20,0,40\n,1.5,1.3,1.1", "coolant-temperature", "°C"],
  ])("one row: %j", (text, rpmQuantity, rpmUnit) => {
    expect(values(text)).toMatchObject({ layout: "one-row", rpmQuantity, rpmUnit, loadQuantity: null, problem: null });
  });

  test("a load that falls", () => {
    expect(values("kPa,1000,2000\n100,2,3\n40,1,2")).toMatchObject({
      loadDirection: "falling",
      rpmDirection: "rising",
    });
  });

  test("a header without a corner, and a corner that holds a number", () => {
    expect(values("1000,2000\n40,1,2\n80,3,4")).toMatchObject({
      layout: "two-axes",
      rows: 2,
      columns: 2,
      problem: null,
    });
    expect(values("0,1000,2000\n40,1,2\n80,3,4").layout).toBe("two-axes");
    expect(recogniseTableText("0,1000,2000\n40,1,2\n80,3,4").layout.sure).toBe(false);
  });

  test("two rows of two numbers lie, unless somebody says that they stand", () => {
    expect(recogniseTableText("10,14\n1.2,0.8").orientation).toMatchObject({
      value: "rpm-across",
      alternatives: ["rpm-down"],
    });
    expect(values("10,1.2\n14,0.8", { orientation: "rpm-down" }).orientation).toBe("rpm-down");
  });
});

describe("cells", () => {
  const axes = (rows: string) => `\n,1000,6000\n${rows}`;
  test.each([
    ["pulse width", axes("20,1,2\n100,3,4"), "pulse-width", "ms"],
    ["Injection time", axes("20,1500,2000\n100,3000,4000"), "pulse-width", "us"],
    ["VE", axes("20,40,50\n100,80,90"), "volumetric-efficiency", "%"],
    ["Volumetric efficiency", axes("20,0.4,0.5\n100,0.8,0.9"), "volumetric-efficiency", "fraction"],
    ["Lambda target", axes("20,1,1\n100,0.9,0.88"), "lambda", "lambda"],
    ["Lambda target", axes("20,14.6,14.6\n100,13,12.5"), "lambda", "AFR"],
    ["AFR", axes("20,14.6,14.6\n100,13,12.5"), "lambda", "AFR"],
    ["Fuel trim", axes("20,1,2\n100,3,4"), "trim", "%"],
    ["Fuel mass", axes("20,5,6\n100,20,22"), "fuel-mass", "mg"],
    ["Enrichment", axes("20,1,1\n100,1.1,1.2"), "factor", "factor"],
    ["Main", axes("20,-1,2\n100,3,4"), "trim", "%"],
    ["Main", axes("20,1,1\n100,0.9,0.88"), "lambda", "lambda"],
    ["Main", axes("20,14.6,14.6\n100,13,12.5"), "lambda", "AFR"],
    ["Main", axes("20,1.5,2\n100,8,9"), "pulse-width", "ms"],
    ["Main", axes("20,40,50\n100,80,90"), "volumetric-efficiency", "%"],
    ["Main", axes("20,1500,2000\n100,8000,9000"), "pulse-width", "us"],
    ["Main", axes("20,2 %,3 %\n100,4 %,5 %"), "trim", "%"],
    ["Main", "\n,1000,6000\nkPa,mg,mg\n20,5,6\n100,20,22", "fuel-mass", "mg"],
    ["Main", "\nms: rpm \\ kPa,1000,6000\n20,5,6\n100,20,22", "pulse-width", "ms"],
    ["Warm-up", "\ncoolant °C,-20,20,80\n%,180,140,100", "factor", "%"],
    ["# a table of trims", axes("20,5,6\n100,20,22"), "trim", "%"],
  ])("%s%j", (title, rest, quantity, unit) => {
    expect(values(title + rest, { stoichiometricRatio: 14.6 })).toMatchObject({ quantity, unit, problem: null });
  });

  test("a word at the table is sure, one in a title likely, and a range is a guess that names its numbers", () => {
    const said = recogniseTableText("lambda: rpm \\ kPa,1000,6000\n20,1,1\n100,0.9,0.88").quantity;
    const titled = recogniseTableText("Lambda\n,1000,6000\n20,1,1\n100,0.9,0.88").quantity;
    const guessed = recogniseTableText(",1000,6000\n20,1,1\n100,0.9,0.88").quantity;
    expect([said.sure, titled.sure, guessed.sure]).toEqual([true, false, false]);
    expect(titled.reason).toBe("The text says “Lambda”.");
    expect(guessed.reason).toBe("No word says what the cells are; 0.88 to 1 looks like lambda.");
    expect(guessed.alternatives).toContain("pulse-width");
  });
});

describe("around the table", () => {
  test("titles, comments, notes and empty columns and lines", () => {
    const text = [
      "Main fuel, front cylinder,,,,",
      "Invented,,,,,",
      ",,,,,",
      "# measured cold",
      ",rpm\\kPa,1000,2000,,",
      ",,,,,",
      ",40,2.1,2.3,,",
      ",80,3.9,4.2,,",
      ",,,,,",
      "not for the road,,,,,",
    ].join("\n");
    expect(values(text)).toMatchObject({
      title: "Main fuel, front cylinder",
      corner: "rpm\\kPa",
      rows: 2,
      columns: 2,
      problem: null,
      passedOver: [
        "1 comment line left out",
        "1 further title line left out",
        "1 note under the table left out",
        "3 empty columns left out",
      ],
    });
  });

  test("a title that is a number in quotes, or looks like one, is no header", () => {
    expect(values('"1000"\n,1000,2000\n40,1,2\n80,3,4').title).toBe("1000");
    expect(values("Map 2, 1\n,1000,2000,3000\n40,1,2,3\n80,3,4,5").title).toBe("Map 2, 1");
  });

  test("a line of units under the header or over it", () => {
    for (const text of ["load,1000,6000\nkPa,ms,ms\n40,1,2\n80,3,4", "kPa,rpm,rpm\n,1000,6000\n40,1,2\n80,3,4"]) {
      const found = values(text);
      expect(found.unitRow).toMatch(/^kPa, (ms|rpm), (ms|rpm)$/);
      expect(found).toMatchObject({ loadQuantity: "manifold-pressure", loadUnit: "kPa", rows: 2, problem: null });
    }
  });
});
