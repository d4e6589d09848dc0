import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test, vi } from "vitest";
import { page, userEvent } from "vitest/browser";
import { NumberField } from "./number-field.ts";

afterEach(() => render(html``, document.body));

async function mount(template: unknown): Promise<NumberField> {
  render(template, document.body);
  const field = document.querySelector("fw-number-field")!;
  await field.updateComplete;
  return field;
}

const changes = (field: NumberField) => {
  const heard = vi.fn<(value: number | null) => void>();
  field.addEventListener("fw-value-change", (event) => heard((event as CustomEvent).detail.value));
  return heard;
};

const box = (name: string) => page.getByRole("textbox", { name, exact: true });

test("shows the value rounded, and takes a figure over with Enter, with point or comma", async () => {
  const field = await mount(html`<fw-number-field label="Flow, new set" unit="g/s" value="3.6"></fw-number-field>`);
  const heard = changes(field);
  await expect.element(box("Flow, new set")).toHaveValue("3.60");
  await box("Flow, new set").fill("4,85");
  expect(heard).not.toHaveBeenCalled();
  await userEvent.keyboard("{Enter}");
  expect(heard).toHaveBeenLastCalledWith(4.85);
  expect(field.value).toBe(4.85);
  await expect.element(box("Flow, new set")).toHaveValue("4.85");
  await box("Flow, new set").fill("4.9");
  await userEvent.tab();
  expect(heard.mock.calls).toEqual([[4.85], [4.9]]);
});

test("passing through leaves the full value alone", async () => {
  const field = await mount(html`<fw-number-field label="Flow" unit="g/s" .value=${3.614_159}></fw-number-field>`);
  const heard = changes(field);
  await box("Flow").fill("3.61");
  await userEvent.tab();
  expect(heard).not.toHaveBeenCalled();
  expect(field.value).toBe(3.614_159);
});

test("a figure comes back as it was typed, not rounded further", async () => {
  await mount(html`<fw-number-field label="Pressure" unit="kPa" decimals="0" value="300"></fw-number-field>`);
  await box("Pressure").fill("300.5");
  await userEvent.tab();
  await expect.element(box("Pressure")).toHaveValue("300.5");
});

test("says at the field why a figure is not taken, and keeps the value", async () => {
  const field = await mount(
    html`<fw-number-field label="Rated at" unit="kPa" decimals="0" value="300" min="100" max="1000"></fw-number-field>`,
  );
  const heard = changes(field);
  await box("Rated at").fill("43.5");
  await userEvent.tab();
  await expect.element(page.getByRole("alert")).toHaveTextContent("At least 100 kPa. Check the figure and its unit.");
  await expect.element(box("Rated at")).toHaveAttribute("aria-invalid", "true");
  await expect.element(box("Rated at")).toHaveAccessibleDescription(/At least 100 kPa/);
  expect(heard).not.toHaveBeenCalled();
  expect(field.value).toBe(300);
  await box("Rated at").fill("three");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByRole("alert")).toHaveTextContent("“three” is not a number; give one such as 1.5.");
  await box("Rated at").fill("350");
  await expect.element(page.getByRole("alert")).not.toBeInTheDocument();
  await userEvent.keyboard("{Enter}");
  expect(heard).toHaveBeenLastCalledWith(350);
});

test("a limit said in another unit is taken when typed", async () => {
  const field = await mount(
    html`<fw-number-field label="Rail" unit="kPa" decimals="0" value="300" min="100" max="1000" .units=${["kPa", "psi"]} shown-unit="psi"></fw-number-field>`,
  );
  await box("Rail").fill("1");
  await userEvent.tab();
  await expect.element(page.getByRole("alert")).toHaveTextContent("At least 14.6 psi.");
  await box("Rail").fill("14.6");
  await userEvent.keyboard("{Enter}");
  expect(field.value).toBeCloseTo(14.6 * 6.894_757_293_168_361, 9);
});

test("Escape brings the value back and stays inside", async () => {
  const outer = vi.fn();
  const field = await mount(
    html`<div @keydown=${outer}><fw-number-field label="Rated at" unit="kPa" decimals="0" value="300" min="100"></fw-number-field></div>`,
  );
  const heard = changes(field);
  await box("Rated at").fill("5");
  await userEvent.keyboard("{Escape}");
  await expect.element(box("Rated at")).toHaveValue("300");
  expect(outer.mock.calls.some(([event]) => event.key === "Escape")).toBe(false);
  // With nothing to bring back, Escape belongs to whatever stands around the field.
  await userEvent.keyboard("{Escape}");
  expect(outer.mock.calls.some(([event]) => event.key === "Escape")).toBe(true);
  await userEvent.tab();
  expect(heard).not.toHaveBeenCalled();
});

test("another unit shows the same value and is said to the owner", async () => {
  const field = await mount(
    html`<fw-number-field label="Flow" unit="g/s" value="3.725" .units=${["g/s", "cc/min", "lb/h"]} density-kg-per-l="0.745"></fw-number-field>`,
  );
  const heard = changes(field);
  const units = vi.fn();
  field.addEventListener("fw-unit-change", (event) => units((event as CustomEvent).detail.shownUnit));
  await page.getByRole("combobox", { name: "Unit of Flow" }).selectOptions("cc/min");
  await expect.element(box("Flow")).toHaveValue("300.0");
  expect(units).toHaveBeenCalledWith("cc/min");
  expect(heard).not.toHaveBeenCalled();
  expect(field.value).toBe(3.725);
  await box("Flow").fill("240");
  await userEvent.tab();
  // 240 cc/min of a fuel of 0.745 kg/L: 240 · 0.745 / 60 g/s.
  expect(field.value).toBeCloseTo(2.98, 12);
});

test("a figure refused in one unit is taken in the other when the unit is put right", async () => {
  const field = await mount(
    html`<fw-number-field label="Rail" unit="kPa" decimals="0" value="300" min="100" .units=${["kPa", "psi"]}></fw-number-field>`,
  );
  await box("Rail").fill("45");
  await userEvent.tab();
  await expect.element(page.getByRole("alert")).toBeInTheDocument();
  await page.getByRole("combobox", { name: "Unit of Rail" }).selectOptions("psi");
  await expect.element(page.getByRole("alert")).not.toBeInTheDocument();
  expect(field.value).toBeCloseTo(45 * 6.894_757_293_168_361, 9);
  await expect.element(box("Rail")).toHaveValue("45.0");
});

test("a unit typed behind the figure is understood, one of another kind is refused", async () => {
  const field = await mount(html`<fw-number-field label="Rail" unit="kPa" decimals="0" value="200"></fw-number-field>`);
  await box("Rail").fill("43.5 psi");
  await userEvent.keyboard("{Enter}");
  expect(field.value).toBeCloseTo(299.92, 2);
  await box("Rail").fill("4 g/s");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByRole("alert")).toHaveTextContent("g/s does not say Rail; use kPa.");
});

test("volume flow cannot be chosen without a density", async () => {
  const field = await mount(
    html`<fw-number-field label="Flow" unit="g/s" value="3.6" .units=${["g/s", "cc/min"]} shown-unit="cc/min"></fw-number-field>`,
  );
  await expect.element(page.getByRole("option", { name: "cc/min" })).toBeDisabled();
  await expect.element(box("Flow")).toHaveValue("3.60");
  field.densityKgPerL = 0.72;
  await expect.element(box("Flow")).toHaveValue("300.0");
});

test("an emptied field says null, unless it is required", async () => {
  const field = await mount(html`<fw-number-field label="Flow" unit="g/s" value="3.6"></fw-number-field>`);
  const heard = changes(field);
  await box("Flow").fill("");
  await userEvent.tab();
  expect(heard).toHaveBeenLastCalledWith(null);
  field.value = 2;
  field.required = true;
  await field.updateComplete;
  await box("Flow").fill(" ");
  await userEvent.tab();
  await expect.element(page.getByRole("alert")).toHaveTextContent("Give a number.");
  expect(field.value).toBe(2);
});

test("a field for whole numbers refuses a part of one", async () => {
  const field = await mount(html`<fw-number-field label="Cylinders" decimals="0" value="2" whole></fw-number-field>`);
  await box("Cylinders").fill("2.5");
  await userEvent.keyboard("{Enter}");
  await expect.element(page.getByRole("alert")).toHaveTextContent("Give a whole number.");
  expect(field.value).toBe(2);
});

test("doubts a figure that is possible but unusual", async () => {
  await mount(
    html`<fw-number-field label="Rail" unit="kPa" decimals="0" value="43" .usual=${[200, 600]} hint="Above the air outside." basis="estimated"></fw-number-field>`,
  );
  await expect.element(page.getByText("Unusual: mostly 200 to 600 kPa. Check the unit.")).toBeInTheDocument();
  await expect
    .element(box("Rail"))
    .toHaveAccessibleDescription(
      "estimated · Above the air outside. Unusual: mostly 200 to 600 kPa. Check the unit. kPa",
    );
});

test("a sentence from outside stands at the field; a value from outside replaces what was typed", async () => {
  const field = await mount(
    html`<fw-number-field label="Flow" unit="g/s" value="3.6" error="Below what the engine needs."></fw-number-field>`,
  );
  await expect.element(page.getByRole("alert")).toHaveTextContent("Below what the engine needs.");
  await box("Flow").fill("x");
  await userEvent.tab();
  await expect.element(page.getByRole("alert")).toHaveTextContent("“x” is not a number");
  field.error = "";
  field.value = 4;
  await expect.element(box("Flow")).toHaveValue("4.00");
  await expect.element(page.getByRole("alert")).not.toBeInTheDocument();
});

test("takes part in a form: value, validity, reset, disabling and Enter", async () => {
  const sent = vi.fn((event: Event) => event.preventDefault());
  const field = await mount(html`<form @submit=${sent}>
    <fieldset><fw-number-field name="flow" label="Flow" unit="g/s" value="3.6" min="0.1" required></fw-number-field></fieldset>
    <button>Keep</button>
  </form>`);
  const form = field.form!;
  const value = () => new FormData(form).get("flow");
  expect(value()).toBe("3.6");
  await box("Flow").fill("4,2");
  await userEvent.keyboard("{Enter}");
  await vi.waitFor(() => expect(sent).toHaveBeenCalledTimes(1));
  expect(value()).toBe("4.2");
  await box("Flow").fill("0");
  await userEvent.keyboard("{Enter}");
  expect(form.checkValidity()).toBe(false);
  await page.getByRole("button", { name: "Keep" }).click();
  expect(sent).toHaveBeenCalledTimes(1);
  form.reset();
  await field.updateComplete;
  expect(value()).toBe("3.6");
  expect(form.checkValidity()).toBe(true);
  form.querySelector("fieldset")!.disabled = true;
  await expect.element(box("Flow")).toBeDisabled();
  expect(value()).toBeNull();
});

test("focus() and a click on the label reach the text field", async () => {
  const field = await mount(html`<fw-number-field label="Flow" unit="g/s" value="3.6"></fw-number-field>`);
  const focused = () => field.shadowRoot!.activeElement?.localName;
  field.focus();
  expect(focused()).toBe("input");
  (document.activeElement as HTMLElement).blur();
  expect(focused()).toBeUndefined();
  await page.getByText("Flow", { exact: true }).click();
  expect(focused()).toBe("input");
});

test("has no accessibility fault that axe finds, in any state", async () => {
  render(
    html`<main>
      <fw-number-field label="Flow, old set" unit="g/s" value="3.6" hint="From the bench." basis="measured"></fw-number-field>
      <fw-number-field label="Flow, new set" unit="g/s" value="4.85" .units=${["g/s", "cc/min"]} error="Too small."></fw-number-field>
      <fw-number-field label="Rail" unit="kPa" value="30" .usual=${[200, 600]} required></fw-number-field>
      <fw-number-field label="Dead time" unit="ms" value="0.9" disabled></fw-number-field>
    </main>`,
    document.body,
  );
  await Promise.all([...document.querySelectorAll("fw-number-field")].map((field) => field.updateComplete));
  const { violations } = await axe.run(document.querySelector("main")!, { rules: { region: { enabled: false } } });
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(" ")}`)).toEqual([]);
  for (const field of document.querySelectorAll("fw-number-field"))
    for (const target of field.shadowRoot!.querySelectorAll("input, select")) {
      const { width, height } = target.getBoundingClientRect();
      expect(Math.min(width, height)).toBeGreaterThanOrEqual(24);
    }
});

test("is defined under its tag", () => expect(customElements.get("fw-number-field")).toBe(NumberField));
