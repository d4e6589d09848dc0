import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test } from "vitest";
import { page } from "vitest/browser";
import { changeColours } from "../../colour/change-colours.ts";
import { presets } from "../../colour/presets.ts";
import { themes } from "../../colour/themes.ts";
import { ChangeLegend } from "./change-legend.ts";

afterEach(() => render(html``, document.body));

const colours = (less: number, more: number) =>
  changeColours(presets[0]!.scheme, { ...themes.light, span: { less, more } });

test("says the words, the span and the same to a screen reader", async () => {
  render(html`<main><fw-change-legend .colours=${colours(30, 30)}></fw-change-legend></main>`, document.body);
  await expect
    .element(page.getByRole("img"))
    .toHaveAccessibleName("Tints show change: less fuel, full colour at 30 %; more fuel, full colour at 30 %");
  await expect.element(page.getByRole("img")).toHaveTextContent("less fuel more fuel ±30 %");
  const { violations } = await axe.run(document.querySelector("main")!);
  expect(violations.map(({ id }) => id)).toEqual([]);
});

test("takes other words and a span that differs by side", async () => {
  render(
    html`<fw-change-legend .colours=${colours(4.2, 12)} less-words="richer" more-words="leaner"></fw-change-legend>`,
    document.body,
  );
  await expect.element(page.getByRole("img")).toHaveTextContent("richer leaner −4.2 to +12 %");
});

test("shows the ramp of the scheme, and nothing without one", async () => {
  render(html`<fw-change-legend></fw-change-legend>`, document.body);
  const legend = document.querySelector("fw-change-legend")!;
  expect(legend).toBeInstanceOf(ChangeLegend);
  await legend.updateComplete;
  expect(legend.shadowRoot!.querySelector("i")).toBeNull();
  legend.colours = colours(30, 30);
  await legend.updateComplete;
  const bar = getComputedStyle(legend.shadowRoot!.querySelector("i")!).backgroundImage;
  // #3f9c8c, the scheme's own end.
  expect(bar).toMatch(/^linear-gradient\(90deg, rgb\(63, 156, 140\)/);
});
