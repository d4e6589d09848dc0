import { html, LitElement, nothing } from "lit";
import { customElement, state } from "lit/decorators.js";
import type { TermEvent } from "../elements/help-tip/help-tip.ts";
import { elementTokens } from "../elements/tokens.ts";
import { pageStyles } from "../leaves/page-styles.ts";
import "../leaves/table/table-leaf.ts";
import { demoJob } from "../store/demo-job.ts";
import { Desk, type Leaf, leaves } from "../store/desk.ts";
import { DeskController } from "../store/desk-controller.ts";
import { browserShelf } from "../store/preferences.ts";
import type {} from "./first-job/first-job.ts";
import type { Keeping } from "./keep-the-job.ts";
import { workbenchStyles } from "./workbench.styles.ts";

const leafNames: Record<Leaf, string> = {
  build: "Build",
  table: "Table",
  evidence: "Evidence",
  "what-if": "What if",
  handover: "Handover",
};

/** What is not on the first page comes when it is asked for; the names are its elements. */
const parts = {
  build: () => import("../leaves/build/build-leaf.ts"),
  evidence: () => import("../leaves/evidence/evidence-leaf.ts"),
  "what-if": () => import("../leaves/what-if/what-if-leaf.ts"),
  handover: () => import("../leaves/handover/handover-leaf.ts"),
  jobs: () => import("./jobs-dialog.ts"),
  preferences: () => import("./preferences-dialog.ts"),
  keys: () => import("./keys-dialog.ts"),
  glossary: () => import("./glossary/glossary-dialog.ts"),
  "first-job": () => import("./first-job/first-job.ts"),
} as const;
type Part = keyof typeof parts;

const pressed = new Set(["checkbox", "radio", "range", "color", "file", "button"]);
const takesText = (target: EventTarget | undefined) =>
  target instanceof HTMLTextAreaElement || (target instanceof HTMLInputElement && !pressed.has(target.type));

const isLeaf = (name: string): name is Leaf => (leaves as readonly string[]).includes(name);

/**
 * The workbench: one open job, five leaves, and everything kept on this machine.
 *
 * The leaf is in the address, so that back and forward work and a leaf can be marked.
 */
@customElement("fw-workbench")
export class Workbench extends LitElement {
  static override styles = [elementTokens, pageStyles, workbenchStyles];

  private readonly shelf = browserShelf();
  readonly desk = new Desk(demoJob(), this.shelf);
  /** Fetched apart: the table can be seen before it can be kept. */
  private readonly fetchedKeeping = import("./keep-the-job.ts").then(
    ({ Keeping }) => new Keeping(this.desk, this.shelf),
  );
  @state() private keeping: Keeping | null = null;
  @state() private dialog: "jobs" | "preferences" | "keys" | null = null;
  /** The term that the glossary begins with, "" its first; null while it is closed. */
  @state() private term: string | null = null;
  @state() private here: ReadonlySet<Part> = new Set();

  constructor() {
    super();
    new DeskController(this, () => this.desk);
  }

  override connectedCallback(): void {
    super.connectedCallback();
    window.addEventListener("hashchange", this.readAddress);
    window.addEventListener("keydown", this.onKey);
    window.addEventListener("beforeunload", this.onLeave);
    this.readAddress();
    void this.startKeeping();
  }

  private async startKeeping(): Promise<void> {
    try {
      this.keeping = await this.fetchedKeeping;
    } catch {
      this.desk.setKeeping({ kind: "failed", why: "a part of the page could not be fetched; load it again." });
      return;
    }
    await this.keeping.start();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    window.removeEventListener("hashchange", this.readAddress);
    window.removeEventListener("keydown", this.onKey);
    window.removeEventListener("beforeunload", this.onLeave);
  }

  protected override updated(): void {
    const { theme } = this.desk.preferences;
    document.documentElement.classList.toggle("dark", theme === "dark");
    document.documentElement.classList.toggle("light", theme === "light");
    document.title = `${this.desk.job.name} · Fuelwright`;
  }

  protected override render() {
    const { desk } = this;
    const { bench, job, view, message } = desk;
    return html`
      <header>
        <h1 tabindex="-1">${job.name}${job.invented ? html` <small>invented demo job</small>` : nothing}</h1>
        <span class="kept">${this.kept()}</span>
      </header>
      <div class="tools">
        <button class="word" @click=${() => (this.dialog = "jobs")}>Jobs and files</button>
        ${
          job.invented
            ? html`<button class="word" @click=${() => this.clearDemo()}>Clear the demo, start empty</button>`
            : nothing
        }
        <button class="word" ?disabled=${bench.undoLabel === null} @click=${() => desk.undo()} aria-keyshortcuts="Control+Z">
          Undo${bench.undoLabel === null ? "" : `: ${bench.undoLabel}`}
        </button>
        <button class="word" ?disabled=${bench.redoLabel === null} @click=${() => desk.redo()} aria-keyshortcuts="Control+Shift+Z">
          Redo${bench.redoLabel === null ? "" : `: ${bench.redoLabel}`}
        </button>
        <button class="word" @click=${() => (this.dialog = "preferences")}>Units and view</button>
        <button class="word" @click=${() => (this.dialog = "keys")}>Keys</button>
        <button class="word" @click=${() => (this.term = "")}>Glossary</button>
        ${
          desk.preferences.guide.state === "on"
            ? nothing
            : html`<button class="word first-job" @click=${() => this.guide()}>First job</button>`
        }
      </div>
      ${
        desk.readOnly === null
          ? nothing
          : html`<div class="bar" role="alert">${desk.readOnly}
              <button @click=${() => this.keeping?.saveCopy()}>Go on in a copy</button></div>`
      }
      <nav aria-label="Leaves">
        ${leaves.map(
          (leaf) =>
            html`<a href="#${leaf}" aria-current=${view.leaf === leaf ? "page" : nothing}>${leafNames[leaf]}</a>`,
        )}
      </nav>
      <div class="told ${message?.tone ?? ""}" role=${message?.tone === "refused" ? "alert" : "status"}>${message?.text ?? ""}</div>
      ${this.firstTime()}
      <main aria-label=${leafNames[view.leaf]}
        @fw-term=${this.explain}
        @fw-branch=${(event: CustomEvent<{ after: string }>) => void this.keeping?.branch(event.detail.after)}>${this.leaf(view.leaf)}</main>
      <footer>
        A lean mixture under load detonates and destroys engines; petrol vapour burns. Local emissions and noise law, and
        licensed practice, come first. Nothing you enter leaves this machine.
      </footer>
      <div @fw-term=${this.explain}>${this.dialogs()}</div>
      ${this.glossary()}
    `;
  }

  /** The first job while it is on the way, or the offer of it to somebody new. */
  private firstTime() {
    const { desk } = this;
    const { state } = desk.preferences.guide;
    if (state === "on")
      return this.has("first-job")
        ? html`<fw-first-job .desk=${desk} @fw-leave=${() => this.leaveGuide()}
            @fw-open-demo=${() => void this.fetchedKeeping.then((keeping) => keeping.openDemo())}></fw-first-job>`
        : nothing;
    if (state === "left" || !desk.job.invented || desk.message) return nothing;
    return html`<p class="offer">New here? A first job over this demo takes six stops, and can be left at any moment.
      <button class="word" @click=${() => this.guide()}>Begin</button>
      <button class="word" @click=${() => this.leaveGuide()}>Not now</button></p>`;
  }

  private async guide() {
    await parts["first-job"]();
    this.here = new Set([...this.here, "first-job"]);
    this.desk.prefer({ guide: { ...this.desk.preferences.guide, state: "on" } });
    await this.updateComplete;
    this.renderRoot.querySelector("fw-first-job")?.focus();
  }

  /** What was pressed is gone: the focus goes to where the first job can be begun again. */
  private async leaveGuide() {
    this.desk.prefer({ guide: { ...this.desk.preferences.guide, state: "left" } });
    await this.updateComplete;
    this.renderRoot.querySelector<HTMLElement>(".first-job")?.focus();
  }

  private readonly explain = ({ term }: TermEvent) => {
    this.term = term;
  };

  /** Whether a part can be shown; if not yet, it is fetched, and the page drawn again when it is there. */
  private has(part: Part): boolean {
    if (this.here.has(part)) return true;
    void parts[part]().then(() => (this.here = new Set([...this.here, part])));
    return false;
  }

  private leaf(leaf: Leaf) {
    const { desk } = this;
    if (leaf !== "table" && !this.has(leaf)) return nothing;
    switch (leaf) {
      case "build":
        return html`<fw-build-leaf .desk=${desk}></fw-build-leaf>`;
      case "table":
        return html`<fw-table-leaf .desk=${desk}></fw-table-leaf>`;
      case "evidence":
        return html`<fw-evidence-leaf .desk=${desk}></fw-evidence-leaf>`;
      case "what-if":
        return html`<fw-what-if-leaf .desk=${desk}></fw-what-if-leaf>`;
      case "handover":
        return html`<fw-handover-leaf .desk=${desk}></fw-handover-leaf>`;
    }
  }

  private kept() {
    const state = this.desk.keeping;
    if (this.desk.readOnly !== null) return "read only";
    if (!state) return "opening what is kept here";
    if (state.kind === "keeping") return "keeping";
    if (state.kind === "kept")
      return `kept on this machine, ${state.time.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}`;
    return html`<strong>not kept:</strong> ${state.why}
      <button class="word" @click=${() => this.keeping?.download()}>Save to a file</button>`;
  }

  /** The glossary, over the page or over the dialog whose help led to it. */
  private glossary() {
    if (this.term === null || !this.has("glossary")) return nothing;
    return html`<fw-glossary-dialog .term=${this.term} @close=${() => (this.term = null)}></fw-glossary-dialog>`;
  }

  private dialogs() {
    const close = () => (this.dialog = null);
    if (this.dialog && !this.has(this.dialog)) return nothing;
    if (this.dialog === "jobs" && this.keeping)
      return html`<fw-jobs-dialog .desk=${this.desk} .keeping=${this.keeping} @close=${close}></fw-jobs-dialog>`;
    if (this.dialog === "preferences")
      return html`<fw-preferences-dialog .desk=${this.desk} @close=${close}></fw-preferences-dialog>`;
    if (this.dialog === "keys") return html`<fw-keys-dialog @close=${close}></fw-keys-dialog>`;
    return nothing;
  }

  /** The button goes with the demo; the focus goes to the new job's name. */
  private async clearDemo() {
    await (await this.fetchedKeeping).newJob();
    await this.updateComplete;
    this.renderRoot.querySelector("h1")?.focus();
  }

  private readAddress = () => {
    const name = location.hash.slice(1);
    if (isLeaf(name) && name !== this.desk.view.leaf) this.desk.look({ leaf: name });
  };

  /** Undo and redo everywhere but where text is typed, which has its own. */
  private onKey = (event: KeyboardEvent) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    if (takesText(event.composedPath()[0])) return;
    const key = event.key.toLowerCase();
    if (key === "z" && !event.shiftKey) this.desk.undo();
    else if (key === "y" || (key === "z" && event.shiftKey)) this.desk.redo();
    else return;
    event.preventDefault();
  };

  private onLeave = (event: BeforeUnloadEvent) => {
    const kind = this.desk.keeping?.kind;
    if (kind === "keeping" || kind === "failed") event.preventDefault();
  };
}
