import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test, vi } from "vitest";
import { page, userEvent } from "vitest/browser";
import "../number-field/number-field.ts";
import { HelpTip, type TermEvent } from "./help-tip.ts";

afterEach(() => render(html``, document.body));

const SENTENCE = "How long the injector stays shut after the current starts.";
const help = (style = "") => html`<fw-help
  style=${style}
  about="Dead time"
  text=${SENTENCE}
  source="bench measurement; common practice"
></fw-help>`;

async function mount(template: unknown): Promise<HelpTip> {
  render(template, document.body);
  const element = document.querySelector("fw-help")!;
  await element.updateComplete;
  return element;
}

const button = () => page.getByRole("button", { name: "Help on Dead time" });
const sentence = () => page.getByText(SENTENCE);

test("is opened and closed by keyboard alone", async () => {
  await mount(help());
  await expect.element(sentence()).not.toBeVisible();
  await userEvent.tab();
  await userEvent.keyboard("{Enter}");
  await expect.element(sentence()).toBeVisible();
  await expect.element(page.getByText("Source: bench measurement; common practice")).toBeVisible();
  await expect.element(button()).toHaveAttribute("aria-expanded", "true");
  await userEvent.keyboard("{Escape}");
  await expect.element(sentence()).not.toBeVisible();
  await expect.element(button()).toHaveAttribute("aria-expanded", "false");
  await userEvent.keyboard(" ");
  await expect.element(sentence()).toBeVisible();
});

test("a screen reader hears the sentence without opening it", async () => {
  await mount(help());
  await expect.element(button()).toHaveAccessibleDescription(`${SENTENCE} Source: bench measurement; common practice`);
});

test("leads to the explanation of a word, for whoever gives one", async () => {
  const element = await mount(help());
  const wanted = vi.fn();
  document.addEventListener("fw-term", (event) => wanted((event as TermEvent).term), { once: true });
  await button().click();
  expect(page.getByRole("button", { name: "In the glossary" }).elements()).toHaveLength(0);
  element.term = "dead-time";
  await element.updateComplete;
  await page.getByRole("button", { name: "In the glossary" }).click();
  expect(wanted).toHaveBeenCalledWith("dead-time");
  await expect.element(sentence()).not.toBeVisible();
});

test("Escape stays inside while it is open", async () => {
  const outer = vi.fn();
  await mount(html`<div @keydown=${(event: KeyboardEvent) => outer(event.key)}>${help()}</div>`);
  await button().click();
  await expect.element(sentence()).toBeVisible();
  await userEvent.keyboard("{Escape}");
  expect(outer).not.toHaveBeenCalled();
  await userEvent.keyboard("{Escape}");
  expect(outer).toHaveBeenCalledWith("Escape");
});

test("a click on it, a click elsewhere and scrolling close it", async () => {
  await mount(html`${help()}<p style="height: 3000px">elsewhere</p>`);
  for (const close of [
    () => button().click(),
    () => page.getByText("elsewhere").click({ position: { x: 600, y: 300 } }),
    async () => window.scrollTo(0, 50),
  ]) {
    await button().click();
    await expect.element(sentence()).toBeVisible();
    await close();
    await expect.element(sentence()).not.toBeVisible();
  }
});

test.each([
  ["left top", "position: fixed; left: 0; top: 0"],
  ["right top", "position: fixed; right: 0; top: 0"],
  ["left bottom", "position: fixed; left: 0; bottom: 0"],
  ["right bottom", "position: fixed; right: 0; bottom: 0"],
])("lies inside the page and not over its button (%s, 360 px)", async (_, style) => {
  await page.viewport(360, 500);
  const element = await mount(help(style));
  await button().click();
  await expect.element(sentence()).toBeVisible();
  const tip = element.shadowRoot!.querySelector("[popover]")!.getBoundingClientRect();
  const mark = element.shadowRoot!.querySelector("button")!.getBoundingClientRect();
  expect(tip.left).toBeGreaterThanOrEqual(0);
  expect(tip.right).toBeLessThanOrEqual(360);
  expect(tip.top).toBeGreaterThanOrEqual(0);
  expect(tip.bottom).toBeLessThanOrEqual(500);
  expect(tip.top >= mark.bottom || tip.bottom <= mark.top).toBe(true);
  expect(Math.min(mark.width, mark.height)).toBeGreaterThanOrEqual(24);
  await page.viewport(1280, 800);
});

test("stands in a number field without being part of its name; axe finds no fault", async () => {
  await mount(html`<main>
    <fw-number-field label="Dead time" unit="ms" value="0.92">
      <fw-help slot="help" about="Dead time" text=${SENTENCE}></fw-help>
    </fw-number-field>
  </main>`);
  await expect.element(page.getByRole("textbox", { name: "Dead time", exact: true })).toHaveValue("0.92");
  await button().click();
  await expect.element(sentence()).toBeVisible();
  const { violations } = await axe.run(document.querySelector("main")!);
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(" ")}`)).toEqual([]);
});

test("is defined under its tag", () => expect(customElements.get("fw-help")).toBe(HelpTip));
