import { css, html } from "lit";
import { customElement, property } from "lit/decorators.js";
import "../../elements/scheme-editor/scheme-editor.ts";
import type { ColourScheme } from "@fuelwright/table-core";
import type { Span } from "../../colour/resolve-span.ts";
import { changeScheme } from "../../store/commands.ts";
import type { Desk } from "../../store/desk.ts";
import { DeskController } from "../../store/desk-controller.ts";
import { PageDialog } from "../page-dialog.ts";
import { isDark } from "../theme.ts";

/** The colours of change: chosen for the job, and as this person's usual ones. */
@customElement("fw-scheme-dialog")
export class SchemeDialog extends PageDialog {
  static override styles = [
    PageDialog.styles,
    css`
      dialog {
        width: min(760px, 92vw);
      }
    `,
  ];

  protected override heading = "Colours of change";
  @property({ attribute: false }) override desk!: Desk;
  /** Percent at which each side of the table at hand has its full colour. */
  @property({ attribute: false }) reach: Span = { less: 30, more: 30 };
  @property() lessWords = "less fuel";
  @property() moreWords = "more fuel";

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  protected override content() {
    return html`<fw-scheme-editor .scheme=${this.desk.job.scheme} .theme=${isDark() ? "dark" : "light"}
      .reach=${this.reach} .lessWords=${this.lessWords} .moreWords=${this.moreWords}
      @fw-scheme-change=${({ detail }: CustomEvent<{ scheme: ColourScheme }>) => this.desk.perform(changeScheme(detail.scheme))}
      @fw-scheme-default=${({ detail }: CustomEvent<{ scheme: ColourScheme }>) => {
        this.desk.prefer({ scheme: detail.scheme });
        this.desk.say(`New jobs start with ${detail.scheme.name}.`);
      }}></fw-scheme-editor>`;
  }
}
