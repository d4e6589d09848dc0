import {
  type Build,
  checkStep,
  type Fuel,
  FuelwrightError,
  fuels,
  type InjectorSpec,
  type Step,
} from "@fuelwright/table-core";
import { css, html, LitElement, nothing } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import { addStep, changeBuild, changeStep, makeStep } from "../../store/commands.ts";
import { STARTING_INJECTORS } from "../../store/demo-job.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { injectorFields } from "../injector-fields.ts";
import { pageStyles } from "../page-styles.ts";
import { choiceField, numberField } from "../table/forms/fields.ts";
import { injectorForm } from "../table/forms/injector-form.ts";

type InjectorStep = Extract<Step, { kind: "rescale-for-injectors" }>;

/** The parts list: engine, fuel, rail, and the injectors that come out and go in. */
@customElement("fw-build-leaf")
export class BuildLeaf extends LitElement {
  static override styles = [
    elementTokens,
    pageStyles,
    css`
      .columns {
        display: grid;
        grid-template-columns: repeat(auto-fit, minmax(min(340px, 100%), 1fr));
        gap: var(--space-4);
        align-items: start;
      }
      .sheet + .sheet {
        margin-top: 0;
      }
    `,
  ];

  @property({ attribute: false }) desk!: Desk;
  /** What was last refused, by the path of its field. */
  @state() private refused: { readonly path: string; readonly sentence: string } | null = null;

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override render() {
    const { build } = this.desk.job;
    return html`
      ${
        build.injectors.name === STARTING_INJECTORS
          ? html`<div class="warns">These figures are a starting point, not your engine's. Go through each of them before you trust a table.</div>`
          : nothing
      }
      <div class="columns">
        ${this.engine(build)} ${this.fuel(build)} ${this.rail(build)} ${this.out(build)} ${this.into()}
      </div>`;
  }

  private engine(build: Build) {
    const { engine } = build;
    const put = (part: Partial<Build["engine"]>) =>
      this.put({ ...build, engine: { ...engine, ...part } }, "the engine");
    return html`<section class="sheet" aria-label="Engine"><h2>Engine</h2>
      ${this.figure("engine.displacementCc", { label: "Displacement", value: engine.displacementCc, unit: "cc", decimals: 0, change: (displacementCc) => put({ displacementCc }) })}
      ${this.figure("engine.cylinders", { label: "Cylinders", value: engine.cylinders, decimals: 0, change: (cylinders) => put({ cylinders }) })}
      ${this.figure("engine.revLimitRpm", { label: "Rev limit", value: engine.revLimitRpm, unitText: "rpm", decimals: 0, change: (revLimitRpm) => put({ revLimitRpm }) })}
      ${choiceField(
        "Injections in a cycle",
        String(engine.injectionsPerCycle) as "1" | "2",
        [
          ["1", "one (sequential)"],
          ["2", "two (once a revolution)"],
        ],
        (count) => put({ injectionsPerCycle: Number(count) as 1 | 2 }),
      )}
      ${this.figure("engine.volumetricEfficiencyPercent", {
        label: "Volumetric efficiency",
        value: engine.volumetricEfficiencyPercent ?? null,
        unitText: "%",
        decimals: 0,
        basis: "estimated",
        change: (volumetricEfficiencyPercent) => put({ volumetricEfficiencyPercent }),
        clear: () => {
          const { volumetricEfficiencyPercent: _, ...rest } = engine;
          this.put({ ...build, engine: rest }, "the engine");
        },
      })}
    </section>`;
  }

  private fuel(build: Build) {
    const { fuel, place, battery, planning } = build;
    const presets = Object.values(fuels) as Fuel[];
    const names = presets.map(({ name }) => [name, name] as const);
    const known = presets.some(({ name }) => name === fuel.name);
    const put = (part: Partial<Fuel>) => this.put({ ...build, fuel: { ...fuel, ...part } }, "the fuel");
    return html`<section class="sheet" aria-label="Fuel and place"><h2>Fuel and place</h2>
      ${choiceField("Fuel", fuel.name, known ? names : [...names, [fuel.name, fuel.name] as const], (name) => {
        const preset = presets.find((other) => other.name === name);
        if (preset) this.put({ ...build, fuel: preset }, "the fuel");
      })}
      ${this.figure("fuel.stoichiometricRatio", { label: "Stoichiometric ratio", value: fuel.stoichiometricRatio, unitText: ": 1", decimals: 2, change: (stoichiometricRatio) => put({ stoichiometricRatio }) })}
      ${this.figure("fuel.densityKgPerL", { label: "Density", value: fuel.densityKgPerL, unitText: "kg/L", decimals: 3, change: (densityKgPerL) => put({ densityKgPerL }) })}
      ${this.figure("battery.volts", { label: "Battery, running", value: battery.volts, unitText: "V", decimals: 1, change: (volts) => this.put({ ...build, battery: { volts } }, "the battery") })}
      ${this.figure("place.altitudeM", { label: "Altitude", value: place.altitudeM, unit: "m", decimals: 0, change: (altitudeM) => this.put({ ...build, place: { ...place, altitudeM } }, "the place") })}
      ${this.figure("place.temperatureC", { label: "Air temperature", value: place.temperatureC, unit: "°C", decimals: 0, change: (temperatureC) => this.put({ ...build, place: { ...place, temperatureC } }, "the place") })}
      ${this.figure("planning.dutyPercent", {
        label: "Planning ceiling, duty",
        value: planning.dutyPercent,
        unitText: "%",
        decimals: 0,
        hint: "80 to 85 % is common practice.",
        change: (dutyPercent) => this.put({ ...build, planning: { dutyPercent } }, "the planning ceiling"),
      })}
      <p class="quiet">Petrol vapour burns: no flame, no sparks, an extinguisher at hand when the fuel side is open.</p>
    </section>`;
  }

  private rail(build: Build) {
    const { rail } = build;
    return html`<section class="sheet" aria-label="Rail"><h2>Rail and regulator</h2>
      ${choiceField(
        "Regulator",
        rail.kind,
        [
          ["manifold-referenced", "follows the manifold"],
          ["fixed", "fixed (in the tank)"],
        ],
        (kind) => this.put({ ...build, rail: { ...rail, kind } }, "the rail"),
      )}
      ${this.figure("rail.pressureKpa", {
        label: rail.kind === "fixed" ? "Pressure over outside air" : "Pressure over the manifold",
        value: rail.pressureKpa,
        unit: "kPa",
        decimals: 0,
        change: (pressureKpa) => this.put({ ...build, rail: { ...rail, pressureKpa } }, "the rail"),
      })}
      <p class="quiet">${
        rail.kind === "fixed"
          ? "A fixed rail pushes harder when the manifold is at vacuum: each cell is worked out at its own pressure."
          : "The injectors see the same pressure in every cell."
      } Relieve the pressure before a line is opened.</p>
    </section>`;
  }

  private out(build: Build) {
    return html`<section class="sheet" aria-label="Injectors going out"><h2>Injectors going out</h2>
      <p class="quiet">What the table was made for.</p>
      ${injectorFields(this.desk, build.injectors, build.fuel, (injectors) => this.put({ ...build, injectors } as Build, "the injectors going out"))}
      ${this.sentence("injectors")}
    </section>`;
  }

  private into() {
    const { desk } = this;
    const step = desk.job.steps.findLast((other): other is InjectorStep => other.kind === "rescale-for-injectors");
    if (!step)
      return html`<section class="sheet" aria-label="Injectors going in"><h2>Injectors going in</h2>
        <p class="quiet">None yet: the injectors stay as they are.</p>
        <button @click=${() => this.beginChange()}>Change the injectors</button></section>`;
    const { fuel } = desk.bench.stateBefore(step.id).build;
    return html`<section class="sheet" aria-label="Injectors going in"><h2>Injectors going in</h2>
      <p class="quiet">Step ${desk.job.steps.indexOf(step) + 1}${step.on ? "" : ", switched off"}; the table follows each figure.</p>
      ${injectorFields(desk, step.settings.to as InjectorSpec, fuel, (to) => {
        const changed = checkStep({ ...step, settings: { ...step.settings, to } });
        desk.perform(changeStep(changed, "Change the injectors going in"));
      })}
      <button class="word" @click=${() => {
        desk.bench.preview(step);
        location.hash = "table";
      }}>See what it does to every cell</button></section>`;
  }

  private beginChange() {
    const { desk } = this;
    const start = injectorForm.start(desk);
    if (typeof start === "string") {
      desk.say(`${start} The injectors going in are then given with the step.`, "refused");
      return;
    }
    desk.perform(
      addStep(makeStep(desk.job, "rescale-for-injectors", undefined, start.settings as never), "Change the injectors"),
    );
  }

  private figure(path: string, field: Parameters<typeof numberField>[0]) {
    const error = this.refused?.path === `build.${path}` ? this.refused.sentence : "";
    return numberField({ ...field, desk: this.desk, error });
  }

  private sentence(path: string) {
    return this.refused?.path.startsWith(`build.${path}`)
      ? html`<div class="warns" role="alert">${this.refused.sentence}</div>`
      : nothing;
  }

  /** A build that can't be is told at its field, and the last good figures stay. */
  private put(build: Build, what: string) {
    this.refused = null;
    try {
      const command = changeBuild(build, what);
      command.change(this.desk.job);
      this.desk.perform(command);
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      const path = typeof error.details.where === "string" ? error.details.where : "build";
      this.refused = { path, sentence: error.message };
      this.desk.say(error.message, "refused");
    }
  }
}
