import { html } from "lit";
import { figure } from "../../store/display.ts";
import type { BuildContext } from "./context.ts";

/** What the controller stores of the asked table, in a few words. */
export function storageWords({ asked }: BuildContext): string {
  const storage = asked.table?.storage;
  if (!asked.table) return "no table yet";
  return storage
    ? `${figure(storage.min, 3)} to ${figure(storage.max, 3)} ${asked.table.unit}, in steps of ${figure(storage.step, 4)}`
    : "not described";
}

/** Storage belongs to the table; here is where it is given. */
export const storagePart = () =>
  html`<p class="quiet">The range and step that the controller stores belong to the table and come in with it. To round to them, take the
    step “Round to what is stored” on the Table leaf; the Handover leaf rounds at export and tells the error.</p>`;
