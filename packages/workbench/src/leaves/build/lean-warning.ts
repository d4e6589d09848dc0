import { html, nothing } from "lit";
import { cellDisplay, figure } from "../../store/display.ts";
import { reachOf } from "../table/forms/reach.ts";
import type { BuildContext } from "./context.ts";
import { lookAtCells } from "./look-at-cells.ts";
import { fixed, say } from "./say.ts";

/** Where the hardware can't give the fuel that is asked: the mixture that arrives, and the way to the cells. */
export function leanWarning({ desk, asked }: BuildContext) {
  const { ceilings } = asked;
  if (!ceilings.ok) return nothing;
  const { leaner, demand, deliveredLambda, railDropKpa } = ceilings.value;
  if (leaner.length === 0) return nothing;
  const worst = leaner.reduce((least, cell) => (cell.value < least.value ? cell : least));
  const display = cellDisplay({ quantity: "lambda" }, desk.preferences, asked.state.build.fuel);
  const mixture = (lambda: number) => `${display.unit} ${fixed(display.show(lambda), display.decimals)}`;
  const drop = railDropKpa?.[worst.at] ?? 0;
  return html`<section class="lean" aria-label="Lean under load">
    <h2>Lean under load: the hardware can't give this fuel</h2>
    <p>${leaner.length === 1 ? "1 cell gets" : `${leaner.length} cells get`} less fuel than asked, ${reachOf(leaner)}. At
      ${figure(worst.rpm, 0)} rpm and ${figure(worst.load)} ${asked.table?.load.unit ?? ""}
      ${
        deliveredLambda && demand.lambda
          ? html`<strong>${mixture(deliveredLambda[worst.at]!)}</strong> arrives where ${mixture(demand.lambda[worst.at]!)} is asked`
          : html`<strong>${figure(100 * (1 - worst.value), 1)} %</strong> of the fuel is missing`
      }${drop > 0 ? `; rail pressure sinks by ${say(desk, drop, "kPa", 0)}` : ""}.
      A lean mixture under load detonates and melts pistons within seconds. Don't run it there until a part is changed.</p>
    <button @click=${() => lookAtCells(desk, asked, leaner)}>Show these cells</button>
  </section>`;
}
