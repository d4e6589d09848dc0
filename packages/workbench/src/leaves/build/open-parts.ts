import { STARTING_INJECTORS } from "../../store/demo-job.ts";
import type { Desk } from "../../store/desk.ts";

/** Rows that a new job has to go through. */
const toGoThrough = ["engine", "fuel", "place", "rail", "injectors"] as const;

const kept = new WeakMap<Desk, { readonly job: string; readonly parts: OpenParts }>();

/** Which rows are open; remembered while the job is open, so that the leaf is found as it was left. */
export class OpenParts {
  private constructor(private readonly ids: Set<string>) {}

  static of(desk: Desk): OpenParts {
    const known = kept.get(desk);
    if (known?.job === desk.job.id) return known.parts;
    const fresh = desk.job.build.injectors.name === STARTING_INJECTORS;
    const parts = new OpenParts(new Set(fresh ? toGoThrough : []));
    kept.set(desk, { job: desk.job.id, parts });
    return parts;
  }

  has(id: string): boolean {
    return this.ids.has(id);
  }

  toggle(id: string): void {
    if (!this.ids.delete(id)) this.ids.add(id);
  }
}
