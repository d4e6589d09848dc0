import { type ColourScheme, createColourScheme } from "@fuelwright/table-core";
import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { page, userEvent } from "vitest/browser";
import { presets } from "../../colour/presets.ts";
import { schemeToJson } from "../../colour/scheme-json.ts";
import { themes } from "../../colour/themes.ts";
import { SchemeEditor } from "./scheme-editor.ts";

let editor: SchemeEditor;
const changes = vi.fn<(scheme: ColourScheme) => void>();
const last = () => changes.mock.lastCall![0];

beforeEach(async () => {
  changes.mockClear();
  render(
    html`<main @fw-scheme-change=${(event: CustomEvent) => changes(event.detail.scheme)}>
      <fw-scheme-editor></fw-scheme-editor>
    </main>`,
    document.body,
  );
  editor = document.querySelector("fw-scheme-editor")!;
  await editor.updateComplete;
});
afterEach(() => render(html``, document.body));

const field = (name: string) => page.getByRole("textbox", { name, exact: true });
const radio = (name: string) => page.getByRole("radio", { name });
const button = (name: string | RegExp) => page.getByRole("button", { name });

describe("colours", () => {
  test("a colour typed in any of the usual ways is taken and said", async () => {
    await field("Less fuel").fill("2B8577");
    await userEvent.keyboard("{Enter}");
    expect(last()).toEqual({ ...presets[0]!.scheme, less: "#2b8577", name: "Verdigris and rust, changed" });
    await field("More fuel").fill("#fa3");
    await userEvent.tab();
    expect(last().more).toBe("#ffaa33");
    await expect.element(field("More fuel")).toHaveValue("#ffaa33");
  });

  test("what is no colour is refused at its field, and brought back by Escape", async () => {
    await field("Less fuel").fill("red");
    await userEvent.tab();
    await expect.element(field("Less fuel")).toHaveAttribute("aria-invalid", "true");
    await expect.element(field("Less fuel")).toHaveAccessibleDescription(/six digits/);
    await expect.element(page.getByRole("alert")).toHaveTextContent(/such as #b4592d/);
    await expect.element(field("Less fuel")).toHaveValue("red");
    expect(changes).not.toHaveBeenCalled();
    await field("Less fuel").click();
    await userEvent.keyboard("{Escape}");
    await expect.element(field("Less fuel")).toHaveValue(presets[0]!.scheme.less);
    await expect.element(page.getByRole("alert")).not.toBeInTheDocument();
  });

  test("the picker shows at once and says once, when the picking ends", async () => {
    const picker = page.getByLabelText("More fuel, pick").element() as HTMLInputElement;
    for (const value of ["#aa0000", "#bb0000", "#cc2200"]) {
      picker.value = value;
      picker.dispatchEvent(new Event("input", { bubbles: true }));
      await editor.updateComplete;
    }
    await expect.element(field("More fuel")).toHaveValue("#cc2200");
    expect(changes).not.toHaveBeenCalled();
    picker.dispatchEvent(new Event("change", { bubbles: true }));
    expect(changes).toHaveBeenCalledTimes(1);
    expect(last().more).toBe("#cc2200");
  });

  test("the middle is plain paper, or a colour that starts as the paper", async () => {
    await expect.element(field("Unchanged")).not.toBeInTheDocument();
    await page.getByRole("checkbox", { name: "plain paper" }).click();
    expect(last().middle).toBe(themes.light.paper);
    await field("Unchanged").fill("#cccccc");
    await userEvent.tab();
    expect(last().middle).toBe("#cccccc");
    await page.getByRole("checkbox", { name: "plain paper" }).click();
    expect(last().middle).toBe("paper");
  });

  test("writing the same again is no change", async () => {
    await field("Less fuel").fill(presets[0]!.scheme.less.toUpperCase());
    await userEvent.tab();
    expect(changes).not.toHaveBeenCalled();
    await expect.element(field("Less fuel")).toHaveValue(presets[0]!.scheme.less);
  });
});

describe("span, steps and name", () => {
  test("a span is automatic, symmetrical or a fixed percentage", async () => {
    await radio("the greatest change, each side its own").click();
    expect(last().span).toEqual({ kind: "automatic" });
    await radio("a fixed change").click();
    expect(last().span).toEqual({ kind: "fixed", percent: 30 });
    await field("Change").fill("12,5");
    await userEvent.keyboard("{Enter}");
    expect(last().span).toEqual({ kind: "fixed", percent: 12.5 });
    await field("Change").fill("0");
    await userEvent.keyboard("{Enter}");
    await expect.element(page.getByRole("alert")).toHaveTextContent("At least 0.1 %.");
    expect(last().span).toEqual({ kind: "fixed", percent: 12.5 });
  });

  test("steps are chosen by number, and smooth is none", async () => {
    await radio("in steps").click();
    expect(last().steps).toBe(3);
    await field("Steps on each side").fill("4.5");
    await userEvent.keyboard("{Enter}");
    await expect.element(page.getByRole("alert")).toHaveTextContent("Give a whole number.");
    await field("Steps on each side").fill("5");
    await userEvent.keyboard("{Enter}");
    expect(last().steps).toBe(5);
    await radio("smooth").click();
    expect(last().steps).toBe(0);
  });

  test("a name is needed", async () => {
    await field("Name").fill("  ");
    await userEvent.tab();
    await expect.element(page.getByRole("alert")).toHaveTextContent("Give the scheme a name.");
    expect(changes).not.toHaveBeenCalled();
    await field("Name").fill(" Shop floor ");
    await userEvent.tab();
    expect(last().name).toBe("Shop floor");
  });
});

describe("presets", () => {
  test("one is picked by its button and keeps the reader's span", async () => {
    await radio("the greatest change, each side its own").click();
    await button(/^Pencil/).click();
    expect(last()).toEqual({ ...presets.find(({ id }) => id === "print")!.scheme, span: { kind: "automatic" } });
    await expect.element(button(/^Pencil/)).toHaveAttribute("aria-pressed", "true");
    await expect.element(button(/^Verdigris/)).toHaveAttribute("aria-pressed", "false");
  });

  test("a changed preset loses its name and its mark, but not if it was named by hand", async () => {
    await field("Name").fill("Noon");
    await userEvent.tab();
    expect(last().name).toBe("Noon");
    await button(/^Slate/).click();
    await field("Less fuel").fill("#4477bb");
    await userEvent.tab();
    expect(last().name).toBe("Slate and straw, changed");
    await expect.element(button(/^Slate/)).toHaveAttribute("aria-pressed", "false");
  });
});

describe("telling apart", () => {
  const rows = () =>
    [...editor.shadowRoot!.querySelectorAll(".sight")].map((row) => row.querySelector(".verdict")!.textContent);

  test("each way of seeing has its verdict, and the summary names the worst", async () => {
    expect(rows()).toHaveLength(5);
    editor.scheme = createColourScheme({ ...presets[0]!.scheme, less: "#28be8c", more: "#e47791", steps: 1 });
    await editor.updateComplete;
    // The pair of the tests of tellApart: alike to a green-blind reader.
    expect(rows()[0]).toBe("told apart at a glance");
    expect(rows()[2]).toMatch(/look alike$/);
    await expect.element(page.getByText("Some tints look alike: green-blind.")).toBeInTheDocument();
  });

  test("the strip shows the tints of the surroundings it is for", async () => {
    const cells = () => [...editor.shadowRoot!.querySelector(".strip")!.querySelectorAll("span")];
    expect(cells().map((cell) => cell.textContent)).toEqual([
      "−30",
      "−20",
      "−10",
      "−5",
      "0",
      "+5",
      "+10",
      "+20",
      "+30",
    ]);
    expect(getComputedStyle(cells()[4]!).backgroundColor).toBe("rgb(255, 253, 247)");
    editor.theme = "dark";
    editor.reach = { less: 8, more: 20 };
    editor.scheme = createColourScheme({ ...editor.scheme, span: { kind: "automatic" } });
    await editor.updateComplete;
    expect(cells().map((cell) => cell.textContent)).toEqual(["−8", "−5", "0", "+5", "+10", "+20"]);
    expect(getComputedStyle(cells()[2]!).backgroundColor).toBe("rgb(33, 31, 26)");
    editor.paper = "#000000";
    await editor.updateComplete;
    expect(getComputedStyle(cells()[2]!).backgroundColor).toBe("rgb(0, 0, 0)");
  });
});

describe("sharing", () => {
  test("the scheme is copied as JSON", async () => {
    const write = vi.spyOn(navigator.clipboard, "writeText").mockResolvedValue();
    await button("Copy as JSON").click();
    expect(write).toHaveBeenCalledWith(schemeToJson(editor.scheme));
    await expect.element(page.getByText("Copied.")).toBeInTheDocument();
    write.mockRestore();
  });

  test("where the clipboard is closed, the text is shown to be copied", async () => {
    const write = vi
      .spyOn(navigator.clipboard, "writeText")
      .mockRejectedValue(new DOMException("no", "NotAllowedError"));
    await button("Copy as JSON").click();
    await expect.element(field("Text of a scheme")).toHaveValue(schemeToJson(editor.scheme));
    write.mockRestore();
  });

  test("a shared text is taken", async () => {
    await button("Take from JSON").click();
    await field("Text of a scheme").fill(schemeToJson(presets[2]!.scheme));
    await button(/^Take$/).click();
    expect(last()).toEqual(presets[2]!.scheme);
    await expect.element(page.getByText("Took Spruce and brick.")).toBeInTheDocument();
    await expect.element(field("Text of a scheme")).not.toBeInTheDocument();
  });

  test.each([
    ["{", "The text must be JSON; paste the whole of it, from { to }."],
    [schemeToJson(presets[0]!.scheme).replace("#3f9c8c", "teal"), /scheme\.less must be a colour as #rrggbb/i],
    [schemeToJson(presets[0]!.scheme).replace("{", '{"__proto__": {},'), /is not a key of a scheme/],
  ])("a bad text is refused with its reason (%#)", async (text, reason) => {
    await button("Take from JSON").click();
    await field("Text of a scheme").fill(text);
    await button(/^Take$/).click();
    await expect.element(page.getByRole("alert")).toHaveTextContent(reason);
    await expect.element(field("Text of a scheme")).toHaveValue(text);
    expect(changes).not.toHaveBeenCalled();
  });

  test("the default is asked for by an event of its own", async () => {
    const heard = vi.fn();
    editor.addEventListener("fw-scheme-default", (event) => heard((event as CustomEvent).detail.scheme));
    await button("Use as my default").click();
    expect(heard).toHaveBeenCalledWith(editor.scheme);
    expect(changes).not.toHaveBeenCalled();
  });
});

describe("for every reader", () => {
  test.each([
    ["light", 1280],
    ["dark", 1280],
    ["light", 360],
  ] as const)("axe finds no fault, targets are 24 px, nothing overflows (%s, %i px)", async (theme, width) => {
    await page.viewport(width, 800);
    const root = document.documentElement;
    root.style.colorScheme = theme;
    document.body.style.background = themes[theme].paper;
    editor.theme = theme;
    editor.scheme = createColourScheme({
      ...editor.scheme,
      steps: 10,
      middle: "#dddddd",
      span: { kind: "fixed", percent: 20 },
    });
    await editor.updateComplete;
    await button("Take from JSON").click();
    await button(/^Take$/).click();
    await expect.element(page.getByRole("alert")).toBeInTheDocument();
    const { violations } = await axe.run(document.querySelector("main")!, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21aa", "wcag22aa", "best-practice"],
    });
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(" ")}`)).toEqual([]);
    for (const target of editor.shadowRoot!.querySelectorAll("button, input, textarea, fw-number-field")) {
      // A box is hit by its label as well.
      const { width: w, height: h } = (target.closest("label") ?? target).getBoundingClientRect();
      expect(Math.min(w, h)).toBeGreaterThanOrEqual(24);
    }
    expect(root.scrollWidth).toBeLessThanOrEqual(width);
    root.style.colorScheme = "";
    document.body.style.background = "";
    await page.viewport(1280, 800);
  });

  test("the whole of it is reached and worked by keyboard", async () => {
    editor.shadowRoot!.querySelector<HTMLElement>(".presets button")!.focus();
    await userEvent.tab();
    await userEvent.keyboard(" ");
    expect(last().name).toBe("Slate and straw");
    const seen: string[] = [];
    for (let i = 0; i < 30; i++) {
      await userEvent.tab();
      const at = editor.shadowRoot!.activeElement;
      if (at === null) break;
      seen.push(at.id || at.getAttribute("name") || at.textContent!.trim());
    }
    expect(seen.filter((name) => ["less", "more", "span", "steps", "name"].includes(name))).toEqual([
      "less",
      "more",
      "span",
      "steps",
      "name",
    ]);
    expect(seen.slice(-3)).toEqual(["Use as my default", "Copy as JSON", "Take from JSON"]);
  });
});

test("is defined under its tag", () => expect(customElements.get("fw-scheme-editor")).toBe(SchemeEditor));
