import type { FuelTable } from "@fuelwright/table-core";
import { html, nothing } from "lit";
import type { Desk } from "../../../store/desk.ts";
import { checkField, choiceField } from "./fields.ts";

/** Tables that fuel is injected by: all but the mixtures, and the factory's own pulses under an in-line unit. */
export const fuelTables = (desk: Desk): readonly FuelTable[] =>
  Object.values(desk.shown.tables).filter(
    ({ id, quantity }) => quantity !== "lambda" && quantity !== "factor" && id !== desk.job.roles.basePulse,
  );

interface Carried {
  readonly tables: readonly string[];
  readonly basePulse?: string;
}

/** Which tables go along, and for trims the factory pulse they work on. */
export function carriedFields(desk: Desk, settings: Carried, change: (part: Carried) => void) {
  const all = fuelTables(desk);
  const pulses = Object.values(desk.shown.tables).filter(({ quantity }) => quantity === "pulse-width");
  const trims = settings.tables.some((id) => desk.shown.tables[id]?.quantity === "trim");
  const { tables, basePulse } = settings;
  return html`${
    trims
      ? choiceField<string>(
          "Factory pulse that is trimmed",
          basePulse ?? "",
          [["", "not known: estimate"], ...pulses.map(({ id, name }) => [id, name] as const)],
          (id) => change({ tables, ...(id && { basePulse: id }) }),
          "",
          "factory-pulse",
        )
      : nothing
  }
  ${
    all.length > 1
      ? html`<h3>Tables carried over</h3>${all.map(({ id, name }) =>
          checkField(name, tables.includes(id), (on) =>
            change({
              tables: all.map((table) => table.id).filter((other) => (other === id ? on : tables.includes(other))),
              ...(basePulse !== undefined && { basePulse }),
            }),
          ),
        )}`
      : nothing
  }`;
}
