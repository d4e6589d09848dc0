import {
  type Assumption,
  type CeilingReport,
  checkCeilings,
  type DemandSettings,
  type FuelTable,
  FuelwrightError,
  type JobState,
} from "@fuelwright/table-core";
import type { Desk } from "../../store/desk.ts";
import { sayRefusal } from "../../store/say-refusal.ts";

/** A result, or the sentence that says why there is none. */
export type Outcome<T> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly sentence: string };

/** Which parts are asked: those after all steps, or those the tables were brought in with. */
export type When = "after" | "before";

/** Cells above which comparisons wait until they are asked for: 100 × 100 take about half a second. */
const LARGE = 10_000;

/** The table that is asked, the parts it is asked of, and everything worked out of them, once each. */
export class Asked {
  private readonly done = new Map<string, Outcome<unknown>>();
  /** What was asked for by hand of a large table. */
  readonly wanted = new Set<string>();

  constructor(
    readonly state: JobState,
    readonly when: When,
    readonly table: FuelTable | null,
    readonly settings: DemandSettings | null,
  ) {}

  /** Why no table can be asked. */
  readonly nothing = "Bring in a fuel table on the Table leaf: then each part gets its verdict.";

  /** Works something out of the table and its build, once; a refusal becomes its sentence. */
  work<T>(name: string, work: (settings: DemandSettings) => T): Outcome<T> {
    const { settings } = this;
    if (!settings) return { ok: false, sentence: this.nothing };
    let outcome = this.done.get(name);
    if (!outcome) {
      outcome = attempt(() => work(settings));
      this.done.set(name, outcome);
    }
    return outcome as Outcome<T>;
  }

  /** Whether several rounds over the table would hold the page up. */
  get large(): boolean {
    return (this.table?.cells.length ?? 0) > LARGE;
  }

  get ceilings(): Outcome<CeilingReport> {
    return this.work("ceilings", checkCeilings);
  }

  /** An assumption of the reports by its id, if it was made. */
  assumption(id: string): Assumption | null {
    const { ceilings } = this;
    if (!ceilings.ok) return null;
    return ceilings.value.parts.flatMap(({ assumptions }) => assumptions).find((one) => one.id === id) ?? null;
  }
}

/** What `work` gives, or the sentence of its refusal. */
export function attempt<T>(work: () => T): Outcome<T> {
  try {
    return { ok: true, value: work() };
  } catch (error) {
    if (!(error instanceof FuelwrightError)) throw error;
    return { ok: false, sentence: sayRefusal(error.message) };
  }
}

/** The tables that ask for fuel. */
export function fuelTables({ tables }: JobState, basePulse: string | undefined): readonly FuelTable[] {
  return Object.values(tables).filter(
    ({ id, quantity, rpm }) =>
      quantity !== "lambda" && quantity !== "factor" && rpm.quantity === "rpm" && id !== basePulse,
  );
}

/** Keeps which table and which parts are asked, and hands the same {@link Asked} out until something of it changes. */
export class Asking {
  /** The chosen table, or null for the first. */
  table: string | null = null;
  when: When = "after";
  private key: readonly unknown[] = [];
  private last: Asked | null = null;

  at({ job, bench }: Desk): Asked {
    const { states, state: after } = bench.replay;
    const state = this.when === "before" ? states[0]! : after;
    const { target, basePulse } = job.roles;
    const tables = fuelTables(state, basePulse);
    const table = tables.find(({ id }) => id === this.table) ?? tables[0] ?? null;
    const wished = target === undefined ? undefined : state.tables[target];
    const base = basePulse === undefined ? undefined : state.tables[basePulse];
    const key = [state, table, wished, base];
    if (!this.last || key.some((part, at) => part !== this.key[at])) {
      this.key = key;
      this.last = new Asked(
        state,
        this.when,
        table,
        table && { build: state.build, table, ...(wished && { target: wished }), ...(base && { basePulse: base }) },
      );
    }
    return this.last;
  }
}
