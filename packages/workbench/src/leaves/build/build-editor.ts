import { type Build, type BuildSpec, FuelwrightError } from "@fuelwright/table-core";
import { html, nothing, type ReactiveControllerHost, type TemplateResult } from "lit";
import { changeBuild } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { sayRefusal } from "../../store/say-refusal.ts";
import { type FigureField, numberField } from "../table/forms/fields.ts";

interface Refusal {
  /** Path of the field under `build`. */
  readonly at: string;
  readonly sentence: string;
  /** What was probably meant, in the field's own unit. */
  readonly meant: number | null;
  /** The build it was refused beside. */
  readonly build: Build;
}

/**
 * Changes the build by commands. What can't be is told at the field that was edited, and the last good figures stay.
 */
export class BuildEditor {
  private refused: Refusal | null = null;
  /** Path of the figure that is being changed. */
  private editing: string | null = null;
  /** Whether some field of this drawing says the refusal. */
  private told = false;

  constructor(
    private readonly host: Pick<ReactiveControllerHost, "requestUpdate">,
    private readonly deskOf: () => Desk,
  ) {}

  get desk(): Desk {
    return this.deskOf();
  }

  /** The build that is edited: as it is before all steps. */
  get build(): Build {
    return this.desk.job.build;
  }

  /** To be called before everything is drawn again. */
  begin(): void {
    this.told = false;
    // What was refused of another state of the job is over.
    if (this.refused && this.refused.build !== this.build) this.refused = null;
  }

  /** A figure of the build, with what was refused of it. `at` is its path: `throttleBody.diameterMm`. */
  figure(at: string, field: FigureField): TemplateResult {
    const mine = this.refused?.at === at ? this.refused : null;
    if (mine) this.told = true;
    const edit = (value: number) => {
      this.editing = at;
      field.change(value);
      this.editing = null;
    };
    return html`${numberField({ ...field, desk: this.desk, error: mine?.sentence ?? "", change: edit })}
      ${
        mine?.meant != null
          ? html`<button class="word meant" @click=${() => edit(mine.meant!)}>Take what was probably meant</button>`
          : nothing
      }`;
  }

  /**
   * What was refused of a part and that no field of it says. Stands after the part's fields.
   *
   * @param itself - only what was refused of the part as a whole
   */
  sentence(part: string, itself = false): TemplateResult | typeof nothing {
    if (!this.refused || this.told) return nothing;
    const { at } = this.refused;
    if (at !== part && (itself || !(at.startsWith(`${part}.`) || at.startsWith(`${part}[`)))) return nothing;
    this.told = true;
    return html`<div class="warns" role="alert">${this.refused.sentence}</div>`;
  }

  /** Puts the build in the place of the present one. `what` was changed, in words. */
  put(build: BuildSpec, what: string): void {
    const { desk } = this;
    this.refused = null;
    try {
      const command = changeBuild(build as Build, what);
      command.change(desk.job);
      desk.perform(command);
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      const { where, didYouMean } = error.details;
      const path = typeof where === "string" ? where.replace(/^build\.?/, "") : "";
      const sentence = sayRefusal(error.message);
      const own = this.editing === null || this.editing === path;
      this.refused = {
        at: this.editing ?? path,
        sentence,
        build: this.build,
        meant: own && this.editing !== null && typeof didYouMean === "number" ? didYouMean : null,
      };
      desk.say(sentence, "refused");
    }
    this.host.requestUpdate();
  }

  /** The build with some parts of it exchanged. */
  putParts(parts: Partial<BuildSpec>, what: string): void {
    this.put({ ...this.build, ...parts }, what);
  }

  /** The build without an optional part. */
  drop(part: "throttleBody" | "manifold" | "intake" | "pump" | "stages", what: string): void {
    const { [part]: _, ...rest } = this.build;
    this.put(rest, what);
  }
}

/** A copy without one of its optional figures. */
export function without<T extends object, K extends keyof T>(value: T, key: K): Omit<T, K> {
  const { [key]: _, ...rest } = value;
  return rest;
}
