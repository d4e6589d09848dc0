import type { FuelTable, JobState, Replay } from "@fuelwright/table-core";
import type { Preferences } from "../../../store/preferences.ts";
import { CeilingsOf, type TableCeilings } from "../../table/ceilings-of.ts";
import type { Paper } from "./paper.ts";

/** Which tables of cells the card holds. */
export type CardTables = "both" | "after" | "none";

/** What a card is made from. */
export interface CardSettings {
  readonly replay: Replay;
  readonly preferences: Preferences;
  readonly paper: Paper;
  readonly tables: CardTables;
  /** The day it is made, as it is to be read. */
  readonly day: string;
}

/** What all parts of the card draw from: the job before and after, and what the hardware says of each table, once. */
export class CardContext {
  readonly before: JobState;
  readonly after: JobState;
  private readonly ceilings = new Map<string, TableCeilings>();

  constructor(readonly settings: CardSettings) {
    this.before = settings.replay.states[0]!;
    this.after = settings.replay.state;
  }

  get replay() {
    return this.settings.replay;
  }
  get job() {
    return this.settings.replay.job;
  }
  get preferences() {
    return this.settings.preferences;
  }

  /** The tables as they are handed over: those that meter fuel first, then the rest. */
  get tables(): readonly FuelTable[] {
    const all = Object.values(this.after.tables);
    return [...all.filter((table) => this.meters(table)), ...all.filter((table) => !this.meters(table))];
  }

  /** Whether a table says how much fuel is injected, rather than what mixture is wished for or what the factory did. */
  meters({ id, quantity }: FuelTable): boolean {
    return quantity !== "lambda" && quantity !== "factor" && id !== this.job.roles.basePulse;
  }

  ceilingsOf(table: FuelTable): TableCeilings {
    let found = this.ceilings.get(table.id);
    if (!found) {
      const { job, after } = this;
      found = new CeilingsOf().at({ job, shown: after, compared: after }, table);
      this.ceilings.set(table.id, found);
    }
    return found;
  }
}
