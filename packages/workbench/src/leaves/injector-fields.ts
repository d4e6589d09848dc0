import type { Fuel, InjectorSpec } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import type { Desk } from "../store/desk.ts";
import { helpOn } from "./help-on.ts";
import { numberField } from "./table/forms/fields.ts";

/** Density of n-heptane at 15 °C, the usual fluid of flow tests. */
const TEST_FLUID_KG_PER_L = 0.684;

/** The fields of one set of injectors; each change gives the whole spec, checked by whoever uses it. */
export function injectorFields(
  desk: Desk,
  injector: InjectorSpec,
  fuel: Fuel,
  change: (injector: InjectorSpec) => void,
): TemplateResult {
  const density = injector.testDensityKgPerL ?? fuel.densityKgPerL;
  const put = (part: Partial<InjectorSpec>) => change({ ...injector, ...part });
  const without = <K extends keyof InjectorSpec>(key: K) => {
    const { [key]: _, ...rest } = injector;
    change(rest as InjectorSpec);
  };
  return html`
    <label class="row">Name <input .value=${injector.name} maxlength="100" size="18"
      @change=${(event: Event) => put({ name: (event.target as HTMLInputElement).value })} /></label>
    ${numberField({
      label: "Flow, held open",
      explain: "injector-flow",
      value: injector.flowGramsPerSecond,
      unit: "g/s",
      desk,
      densityKgPerL: density,
      decimals: 3,
      min: 0.001,
      change: (flowGramsPerSecond) => put({ flowGramsPerSecond }),
    })}
    ${numberField({
      label: "Rated at",
      explain: "injector-rated-at",
      value: injector.ratedPressureKpa,
      unit: "kPa",
      desk,
      decimals: 1,
      min: 0.001,
      change: (ratedPressureKpa) => put({ ratedPressureKpa }),
    })}
    ${numberField({
      label: "Density of the test fluid",
      explain: "injector-test-density",
      value: injector.testDensityKgPerL ?? null,
      unitText: "kg/L",
      decimals: 3,
      hint:
        injector.testDensityKgPerL === undefined
          ? `Empty: rated with the fuel. N-heptane is ${TEST_FLUID_KG_PER_L}.`
          : "",
      change: (testDensityKgPerL) => put({ testDensityKgPerL }),
      clear: () => without("testDensityKgPerL"),
    })}
    ${deadTimeFields(injector, put)}
    ${numberField({
      label: "Smallest repeatable pulse",
      explain: "smallest-pulse",
      value: injector.smallestPulseMs ?? null,
      unitText: "ms",
      decimals: 2,
      min: 0,
      hint: injector.smallestPulseMs === undefined ? "Empty: not known; short pulses are not checked." : "",
      change: (smallestPulseMs) => put({ smallestPulseMs }),
      clear: () => without("smallestPulseMs"),
    })}
    ${shortPulseFields(injector, put, () => without("shortPulse"))}
  `;
}

const inputNumber = (event: Event) => (event.target as HTMLInputElement).valueAsNumber;

/** Dead time as one figure, or as points over battery voltage (and over pressure, where the points give it). */
function deadTimeFields(injector: InjectorSpec, put: (part: Partial<InjectorSpec>) => void) {
  const { deadTime } = injector;
  if (typeof deadTime === "number")
    return html`${numberField({
      label: "Dead time",
      explain: "dead-time",
      value: deadTime,
      unitText: "ms",
      decimals: 3,
      min: 0,
      max: 20,
      change: (ms) => put({ deadTime: ms }),
    })}
    <button class="word" @click=${() => put({ deadTime: [9, 11, 13, 15].map((volts) => ({ volts, ms: deadTime })) })}>
      Give it over battery voltage</button>`;
  const overPressure = deadTime.some(({ pressureKpa }) => pressureKpa !== undefined);
  const swap = (at: number, part: object) =>
    put({ deadTime: deadTime.map((point, other) => (other === at ? { ...point, ...part } : point)) });
  return html`<table aria-label="Dead time of ${injector.name}">
      <thead><tr><th scope="col">battery V</th>${overPressure ? html`<th scope="col">across, kPa</th>` : nothing}<th scope="col">dead time ms ${helpOn("dead-time", "Dead time over voltage")}</th><td></td></tr></thead>
      <tbody>${deadTime.map(
        (point, at) => html`<tr>
          <td><input type="number" step="any" style="width: 68px" aria-label="Battery voltage ${at + 1}" .value=${String(point.volts)}
            @change=${(event: Event) => swap(at, { volts: inputNumber(event) })} /></td>
          ${
            overPressure
              ? html`<td><input type="number" step="any" style="width: 68px" aria-label="Pressure ${at + 1}" .value=${String(point.pressureKpa ?? "")}
                  @change=${(event: Event) => swap(at, { pressureKpa: inputNumber(event) })} /></td>`
              : nothing
          }
          <td><input type="number" step="any" style="width: 74px" aria-label="Dead time ${at + 1}, ms" .value=${String(point.ms)}
            @change=${(event: Event) => swap(at, { ms: inputNumber(event) })} /></td>
          <td><button class="word" aria-label="Take out point ${at + 1}" ?disabled=${deadTime.length < 2}
            @click=${() => put({ deadTime: deadTime.toSpliced(at, 1) })}>take out</button></td></tr>`,
      )}</tbody></table>
    <button class="word" @click=${() => put({ deadTime: [...deadTime, nextPoint(deadTime)] })}>Add a point</button>
    ${
      overPressure
        ? nothing
        : html` · <button class="word" @click=${() => put({ deadTime: deadTime.map((point) => ({ ...point, pressureKpa: injector.ratedPressureKpa })) })}>Give it over pressure too</button>`
    } · <button class="word" @click=${() => put({ deadTime: deadTime.at(-1)!.ms })}>One figure</button>`;
}

function nextPoint(points: readonly { volts: number; ms: number; pressureKpa?: number }[]) {
  const last = points.at(-1)!;
  return { ...last, volts: last.volts + 1 };
}

/** What short openings deliver, for injectors that were measured there. */
function shortPulseFields(injector: InjectorSpec, put: (part: Partial<InjectorSpec>) => void, drop: () => void) {
  const { shortPulse } = injector;
  const smallest = 0.5;
  if (!shortPulse)
    return html`<button class="word" @click=${() =>
      put({
        shortPulse: [0, smallest, 2 * smallest, 4 * smallest].map((ms) => ({ effectiveMs: ms, deliveredMs: ms })),
      })}>
      Add a short-pulse table</button>`;
  const swap = (at: number, part: object) =>
    put({ shortPulse: shortPulse.map((point, other) => (other === at ? { ...point, ...part } : point)) });
  return html`<table aria-label="Short pulses of ${injector.name}">
      <thead><tr><th scope="col">open, less dead time, ms</th><th scope="col">delivers as, ms</th></tr></thead>
      <tbody>${shortPulse.map(
        (point, at) => html`<tr>
          <td><input type="number" step="any" style="width: 74px" aria-label="Open time ${at + 1}" .value=${String(point.effectiveMs)}
            @change=${(event: Event) => swap(at, { effectiveMs: inputNumber(event) })} /></td>
          <td><input type="number" step="any" style="width: 74px" aria-label="Delivers as ${at + 1}" .value=${String(point.deliveredMs)}
            @change=${(event: Event) => swap(at, { deliveredMs: inputNumber(event) })} /></td></tr>`,
      )}</tbody></table>
    <button class="word" @click=${drop}>Take the short-pulse table out</button>`;
}
