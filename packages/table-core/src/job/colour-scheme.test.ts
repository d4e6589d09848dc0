import { describe, expect, test } from "vitest";
import { refusal } from "../../testing/refusal.ts";
import { type ColourScheme, createColourScheme, defaultScheme } from "./colour-scheme.ts";

const scheme: ColourScheme = {
  name: "Sea and sand",
  less: "#0a4b8C",
  middle: "#FFFFFF",
  more: "#c08040",
  span: { kind: "fixed", percent: 12 },
  steps: 4,
};

test("a scheme is a frozen copy, its colours in small letters, and nothing but a scheme", () => {
  const made = createColourScheme({ ...scheme, onload: "x" } as ColourScheme);
  expect(made).toEqual({ ...scheme, less: "#0a4b8c", middle: "#ffffff" });
  expect(Object.isFrozen(made) && Object.isFrozen(made.span)).toBe(true);
  expect(createColourScheme({ ...scheme, middle: "paper" }).middle).toBe("paper");
});

test("a span carries a percentage only where it is fixed", () => {
  for (const kind of ["automatic", "symmetrical"] as const)
    expect(createColourScheme({ ...scheme, span: { kind, percent: 9 } as ColourScheme["span"] }).span).toEqual({
      kind,
    });
  for (const percent of [0.1, 1000])
    expect(createColourScheme({ ...scheme, span: { kind: "fixed", percent } }).span).toEqual({
      kind: "fixed",
      percent,
    });
});

test("a new job starts with a scheme of its own", () => {
  expect(createColourScheme(defaultScheme)).toEqual(defaultScheme);
  expect(defaultScheme.span).toEqual({ kind: "symmetrical" });
});

describe("what is no scheme is refused by its place", () => {
  const bad = (part: unknown) => refusal(() => createColourScheme(part as ColourScheme, "job.scheme"));
  const changed = (part: object) => bad({ ...scheme, ...part });

  test("nothing, and what is no object", () => {
    for (const nothing of [null, undefined, "red", 5]) expect(bad(nothing).code).toBe("bad-scheme");
    expect(bad({}).details.where).toBe("job.scheme.span.kind");
  });

  test.each(["red", "#12345", "#1234567", "x#123456", "#12345g", "#123456 ", 0x123456, null])(
    "the colour %j",
    (colour) => {
      for (const side of ["less", "middle", "more"])
        expect(changed({ [side]: colour })).toMatchObject({
          code: "bad-colour",
          details: { where: `job.scheme.${side}`, value: colour },
        });
    },
  );

  test("names, spans and steps out of their bounds", () => {
    expect(changed({ name: " " })).toMatchObject({ code: "bad-text", details: { where: "job.scheme.name" } });
    expect(changed({ name: "n".repeat(61) }).code).toBe("bad-text");
    expect(changed({ span: { kind: "wide" } }).code).toBe("unknown-choice");
    for (const percent of [0.09, 1001]) expect(changed({ span: { kind: "fixed", percent } }).code).toBe("out-of-range");
    expect(changed({ span: { kind: "fixed" } }).details.where).toBe("job.scheme.span.percent");
    for (const steps of [-1, 11]) expect(changed({ steps }).code).toBe("out-of-range");
    expect(changed({ steps: 1.5 })).toMatchObject({ code: "not-whole", details: { where: "job.scheme.steps" } });
  });
});
