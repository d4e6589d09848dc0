import { type Pump, type PumpPoint, sizePump } from "@fuelwright/table-core";
import { html, nothing, type TemplateResult } from "lit";
import { figure } from "../../store/display.ts";
import { assumptionList } from "./assumptions.ts";
import { without } from "./build-editor.ts";
import type { BuildContext } from "./context.ts";
import { lookAtCells } from "./look-at-cells.ts";
import { fixed, help, say, textField } from "./say.ts";

/** The pump that is asked, in a few words. */
export function pumpWords({ asked }: BuildContext): string {
  const { pump } = asked.state.build;
  if (!pump) return "not described";
  const { curve, name } = pump;
  const flows = curve.map(({ litresPerHour }) => litresPerHour);
  const words = `${figure(Math.max(...flows), 1)} L/h at ${figure(curve[flows.indexOf(Math.max(...flows))]!.pressureKpa, 0)} kPa`;
  return name ? `${name}, ${words}` : words;
}

/** The pump by its curve, and what the table asks of it. */
export function pumpPart(context: BuildContext) {
  const { editor } = context;
  return html`<div class="fields">
      <div>${pumpFields(context, "pump", editor.build.pump, (pump) =>
        pump ? editor.putParts({ pump }, "the pump") : editor.drop("pump", "the pump"),
      )}</div>
      ${sizing(context)}
    </div>`;
}

/** The fields of a pump, of the build or of a stage; giving a flow describes it. Arguments as `throttleFields`. */
export function pumpFields(
  { editor }: BuildContext,
  at: string,
  pump: Pump | undefined,
  put: (pump: Pump | undefined) => void,
  none = "no pump is described.",
): TemplateResult {
  if (!pump) {
    const pressureKpa = editor.build.rail.pressureKpa;
    return html`${editor.figure(`${at}.curve[0].litresPerHour`, {
      label: `Flow at ${figure(pressureKpa, 0)} kPa`,
      value: null,
      unitText: "L/h",
      decimals: 1,
      hint: `Empty: ${none} More points can be given then.`,
      change: (litresPerHour) => put({ curve: [{ pressureKpa, litresPerHour }] }),
      clear: () => {},
    })}${editor.sentence(at)}`;
  }
  const optional = (key: "ratedVolts" | "lossKpa") => ({
    value: pump[key] ?? null,
    change: (value: number) => put({ ...pump, [key]: value }),
    clear: () => put(without(pump, key) as Pump),
  });
  return html`${curveTable(pump, editor.build.battery.volts, put)}
    ${editor.sentence(`${at}.curve`)}${editor.sentence(at, true)}
    ${editor.figure(`${at}.ratedVolts`, {
      label: "Measured at",
      unitText: "V",
      decimals: 1,
      hint:
        pump.ratedVolts === undefined && pump.curve[0]?.volts === undefined
          ? "Empty: at the battery's voltage. A volt less is about 8 % less flow."
          : "",
      help: help(
        "Voltage of the curve",
        "At the pump while its flow was measured; at another voltage flow is taken to go with it.",
        "estimated",
      ),
      ...optional("ratedVolts"),
    })}
    ${editor.figure(`${at}.lossKpa`, { label: "Lost in filter and line", unit: "kPa", decimals: 0, hint: pump.lossKpa === undefined ? "Empty: nothing. Each kPa comes on top of the rail." : "", ...optional("lossKpa") })}
    ${textField("Name of the pump", pump.name ?? "", (name) => put(name ? { ...pump, name } : (without(pump, "name") as Pump)))}
    ${editor.sentence(at)}
    <button class="word" @click=${() => put(undefined)}>Take the pump out</button>`;
}

const inputNumber = (event: Event) => (event.target as HTMLInputElement).valueAsNumber;

/** Points of flow over pressure, and over voltage where they give it. */
function curveTable(pump: Pump, batteryVolts: number, put: (pump: Pump) => void) {
  const { curve } = pump;
  const overVolts = curve.some(({ volts }) => volts !== undefined);
  const swap = (at: number, part: Partial<PumpPoint>) =>
    put({ ...pump, curve: curve.map((point, other) => (other === at ? { ...point, ...part } : point)) });
  const cell = (at: number, key: keyof PumpPoint, label: string) =>
    html`<td><input type="number" step="any" aria-label="${label}, point ${at + 1}" .value=${String(curve[at]![key] ?? "")}
      @change=${(event: Event) => {
        swap(at, { [key]: inputNumber(event) });
        // What was refused does not stay standing as if it were in force.
        (event.target as HTMLInputElement).value = String(curve[at]![key] ?? "");
      }} /></td>`;
  const last = curve.at(-1)!;
  return html`<table class="points" aria-label="Curve of the pump">
      <thead><tr><th scope="col">at kPa</th><th scope="col">flow, L/h</th>${overVolts ? html`<th scope="col">at V</th>` : nothing}<td></td></tr></thead>
      <tbody>${curve.map(
        (
          _,
          at,
        ) => html`<tr>${cell(at, "pressureKpa", "Pressure")}${cell(at, "litresPerHour", "Flow")}${overVolts ? cell(at, "volts", "Voltage") : nothing}
          <td><button class="word" aria-label="Take out point ${at + 1}" ?disabled=${curve.length < 2}
            @click=${() => put({ ...pump, curve: curve.toSpliced(at, 1) })}>take out</button></td></tr>`,
      )}</tbody></table>
    <div class="words">
      <button class="word" @click=${() => put({ ...pump, curve: [...curve, { ...last, pressureKpa: last.pressureKpa + 50 }] })}>Add a point</button>
      ${
        overVolts
          ? html`<button class="word" @click=${() => put({ ...pump, curve: oneVoltage(curve) })}>At one voltage</button>`
          : html`<button class="word" @click=${() => put({ ...pump, curve: curve.map((point) => ({ ...point, volts: pump.ratedVolts ?? batteryVolts })) })}>Give it over voltage too</button>`
      }
    </div>`;
}

/** The points of the highest voltage, without it. */
function oneVoltage(curve: readonly PumpPoint[]): readonly PumpPoint[] {
  const most = Math.max(...curve.map(({ volts }) => volts ?? 0));
  return curve.filter(({ volts }) => volts === most).map((point) => without(point, "volts"));
}

function sizing({ desk, asked }: BuildContext) {
  const size = asked.work("pump sizing", sizePump);
  if (!size.ok)
    return html`<section aria-label="Size of pump"><h3 class="first">Size</h3><p class="quiet">${size.sentence}</p></section>`;
  const { needLitresPerHour, wantedLitresPerHour, pressureKpa, cell, pump, assumptions, basis } = size.value;
  return html`<section aria-label="Size of pump"><h3 class="first">Size</h3>
    <table class="figures" aria-label="What the pump has to give"><tbody>
      <tr><th scope="row">burnt at most</th><td>${fixed(needLitresPerHour, 1)} L/h</td>
        <td><button class="word" @click=${() => lookAtCells(desk, asked, [cell])}>at ${cell.rpm} rpm</button></td></tr>
      <tr><th scope="row">with a fifth to spare</th><td>${fixed(wantedLitresPerHour, 1)} L/h</td><td class="quiet">common practice</td></tr>
      <tr><th scope="row">against</th><td>${say(desk, pressureKpa, "kPa", 0)}</td><td class="quiet">rail, filter and line</td></tr>
      ${
        pump
          ? html`<tr><th scope="row">the pump gives</th><td>${fixed(pump.litresPerHour, 1)} L/h</td>
              <td class="quiet">${pump.givesOutKpa === null ? "never enough" : `enough up to ${say(desk, pump.givesOutKpa, "kPa", 0)}`}</td></tr>`
          : nothing
      }
    </tbody></table>
    <p class="quiet">A regulator returns what isn't burnt: a pump may be larger. A pump that falls short lets rail pressure sink, and every
      cell goes lean without a word. Test flow into a closed can, away from sparks.</p>
    ${assumptionList(assumptions, basis)}</section>`;
}
