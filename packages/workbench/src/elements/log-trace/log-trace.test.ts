import axe from "axe-core";
import { html, render } from "lit";
import { afterEach, expect, test } from "vitest";
import { page, userEvent } from "vitest/browser";
import { pageTokens } from "../tokens.ts";
import type { LogTrace, TraceWindowEvent } from "./log-trace.ts";
import "./log-trace.ts";
import { TraceBuilder } from "./trace-data.ts";

afterEach(() => render(html``, document.body));

async function show() {
  const builder = new TraceBuilder();
  const time = Float64Array.from({ length: 6000 }, (_, at) => 100 + at / 50);
  builder.add(
    { time, rpm: time.map((t) => 2000 + 500 * Math.sin(t)), lambda: time.map((t) => 1 + 0.1 * Math.sin(3 * t)) },
    6000,
  );
  const chosen: (TraceWindowEvent["window"] | undefined)[] = [];
  render(
    html`<style>${pageTokens}</style><main style="width: 700px"><fw-log-trace label="ride.csv" .data=${builder.take()}
      .lanes=${[
        { label: "lambda", unit: "", decimals: 2, keys: ["lambda"], thin: ["lambda-commanded"] },
        { label: "rpm", unit: "rpm", decimals: 0, keys: ["rpm"], thin: [] },
        { label: "throttle", unit: "%", decimals: 0, keys: ["throttle-position"], thin: [] },
      ]} @fw-trace-window=${(event: TraceWindowEvent) => chosen.push(event.window)}></fw-log-trace></main>`,
    document.body,
  );
  const trace = document.querySelector<LogTrace>("fw-log-trace")!;
  await trace.updateComplete;
  return { trace, chosen };
}

test("draws what the log has, and says so", async () => {
  const { trace } = await show();
  await expect
    .element(page.getByRole("img"))
    .toHaveAccessibleName(/^ride\.csv: lambda, rpm, from 0:00 to 2:00 of 2:00\./);
  const canvas = trace.shadowRoot!.querySelector("canvas")!;
  const pixels = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height).data;
  expect(pixels.filter((value, at) => at % 4 === 3 && value > 200).length).toBeGreaterThan(2000);
});

test("shades what is left out, and only that", async () => {
  const { trace } = await show();
  const { count } = trace.data!;
  const early = Float32Array.from({ length: count }, (_, at) => Number(at < count / 2));
  const inked = () => {
    const canvas = trace.shadowRoot!.querySelector("canvas")!;
    const paper = canvas.getContext("2d")!;
    // A column through the plot on either side of its middle.
    return [0.25, 0.75].map((share) => {
      const x = Math.round((46 + share * (canvas.clientWidth - 46)) * devicePixelRatio);
      return paper.getImageData(x, 0, 1, canvas.height).data.filter((value, at) => at % 4 === 3 && value > 0).length;
    });
  };
  const [left, right] = inked();
  trace.removed = { low: early, high: early };
  await trace.updateComplete;
  const [shaded, plain] = inked();
  expect(shaded).toBeGreaterThan(2 * left!);
  expect(plain).toBe(right);
  await expect.element(page.getByText(/^Shaded: not counted\./)).toBeInTheDocument();
});

test("dragging chooses a stretch; it can be typed and dropped too", async () => {
  const { trace, chosen } = await show();
  const plot = trace.shadowRoot!.querySelector<HTMLElement>(".plot")!;
  const { left, top, width } = plot.getBoundingClientRect();
  const at = (share: number) => left + 46 + share * (width - 46);
  const point = (type: string, share: number) =>
    plot.dispatchEvent(new PointerEvent(type, { clientX: at(share), clientY: top + 20, pointerId: 1, bubbles: true }));
  // Made events have no pointer to capture.
  plot.setPointerCapture = () => {};
  plot.hasPointerCapture = () => true;
  point("pointerdown", 0.25);
  point("pointermove", 0.5);
  point("pointerup", 0.5);
  expect(chosen).toHaveLength(1);
  expect(chosen[0]!.from).toBeCloseTo(30, 0);
  expect(chosen[0]!.to).toBeCloseTo(60, 0);

  await page.getByRole("textbox", { name: "to" }).fill("45");
  await userEvent.keyboard("{Enter}");
  expect(chosen[1]).toEqual({ from: 0, to: 45 });
  trace.window = chosen[1]!;
  await page.getByRole("button", { name: "All of it" }).click();
  expect(chosen[2]).toBeNull();
});

test("comes closer and moves by keys, and back to the whole log", async () => {
  const { trace } = await show();
  const plot = page.getByRole("img");
  trace.shadowRoot!.querySelector<HTMLElement>(".plot")!.focus();
  await userEvent.keyboard("+");
  await expect.element(plot).toHaveAccessibleName(/from 0:30 to 1:30/);
  await userEvent.keyboard("{ArrowRight}");
  await expect.element(plot).toHaveAccessibleName(/from 0:36 to 1:36/);
  await userEvent.keyboard("{Home}");
  await expect.element(plot).toHaveAccessibleName(/from 0:00 to 2:00/);
});

test("has no faults for axe-core", async () => {
  await show();
  const { violations } = await axe.run(document.querySelector("main")!);
  expect(violations.map(({ id }) => id)).toEqual([]);
});
