import { evaluateCells, FuelwrightError, prepareExpressions, regionOfCells } from "@fuelwright/table-core";
import { html, LitElement } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { elementTokens } from "../../elements/tokens.ts";
import type { Desk } from "../../store/desk.ts";
import { plainRefusal } from "../../store/plain-refusal.ts";
import { helpOn } from "../help-on.ts";
import { pageStyles } from "../page-styles.ts";

/**
 * Selects the cells for which a condition holds: `cell > 8 and rpm < 2000`.
 *
 * @event fw-show-region - The region found, to be shown as the selection.
 */
@customElement("fw-find-cells")
export class FindCells extends LitElement {
  static override styles = [elementTokens, pageStyles];

  @property({ attribute: false }) desk!: Desk;
  @state() private said = "";
  @state() private wrong = false;
  @query("input") private field!: HTMLInputElement;

  protected override render() {
    return html`<form @submit=${this.find}>
      <h3>Find cells where ${helpOn("find-where", "Find cells where")}</h3>
      <label><input aria-label="Find cells where" size="22" maxlength="400" placeholder="cell > 8 and rpm < 2000" aria-invalid=${this.wrong ? "true" : "false"} /></label>
      <button>Select</button>
      <p class=${this.wrong ? "warns" : "quiet"} role=${this.wrong ? "alert" : "status"}>${this.said}</p>
    </form>`;
  }

  private find = async (event: Event) => {
    event.preventDefault();
    const { table } = this.desk;
    const condition = this.field.value.trim();
    if (!table || condition === "") return;
    try {
      await prepareExpressions();
      const free = { ...table, locked: [] };
      const holds = evaluateCells(free, { expression: `(${condition}) ? 1 : 0`, tables: this.desk.shown.tables });
      const found = (at: number) => holds.cells[at] === 1;
      const count = holds.cells.reduce((sum, _, at) => sum + Number(found(at)), 0);
      const region = regionOfCells(table, found);
      this.wrong = false;
      this.said = count === 0 ? "No cell." : count === 1 ? "1 cell selected." : `${count} cells selected.`;
      if (!region) return;
      this.desk.look({ region });
      this.dispatchEvent(new CustomEvent("fw-show-region", { bubbles: true, composed: true, detail: region }));
    } catch (error) {
      if (!(error instanceof FuelwrightError)) throw error;
      this.wrong = true;
      this.said = plainRefusal(error.message);
    }
  };
}
