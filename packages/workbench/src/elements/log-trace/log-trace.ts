import { html, LitElement, nothing, type PropertyValues } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import "../number-field/number-field.ts";
import type { ValueChangeEvent } from "../number-field/number-field.ts";
import { elementTokens } from "../tokens.ts";
import {
  clock,
  drawTrace,
  GUTTER,
  heightOf,
  type LaidLane,
  layLanes,
  type Stretch,
  type TraceLaneSpec,
} from "./draw-trace.ts";
import { inksOf } from "./inks-of.ts";
import { logTraceStyles } from "./log-trace.styles.ts";
import { type TraceData, type TraceLane, traceColumns } from "./trace-data.ts";

export type { TraceLaneSpec } from "./draw-trace.ts";

/** A stretch of the log was chosen, in seconds from its beginning; null: all of it. */
export class TraceWindowEvent extends Event {
  constructor(
    /** From and to, s. */
    readonly window: Stretch | null,
  ) {
    super("fw-trace-window", { bubbles: true, composed: true });
  }
}

/** The closest view, in seconds. */
const CLOSEST = 1;

/**
 * A log over time in bands, one for each quantity: drag to choose a stretch, turn the wheel to come closer.
 *
 * Whatever the view, each column of the screen shows all that falls in it, so that no spike is lost. By keyboard: arrows move,
 * + and − come closer and go back, Home shows all; the chosen stretch is typed.
 *
 * @event {TraceWindowEvent} fw-trace-window - Another stretch was chosen.
 */
@customElement("fw-log-trace")
export class LogTrace extends LitElement {
  static override styles = [elementTokens, logTraceStyles];

  /** What the log is called, for those who listen. */
  @property() label = "";
  /** The log as {@link TraceBuilder} gathers it; null: nothing is drawn. */
  @property({ attribute: false }) data: TraceData | null = null;
  /** The bands from top to bottom; those of which the log has nothing are left out. */
  @property({ attribute: false }) lanes: readonly TraceLaneSpec[] = [];
  /** The chosen stretch in seconds from the beginning; null: all. */
  @property({ attribute: false }) window: Stretch | null = null;
  /** 1 over stretches whose samples are left out, which are shaded; null: nothing is. */
  @property({ attribute: false }) removed: TraceLane | null = null;
  @state() private view: Stretch | null = null;
  @state() private brushed: Stretch | null = null;
  @state() private pointed: number | null = null;
  @query("canvas") private canvas!: HTMLCanvasElement | null;
  @query(".plot") private plot!: HTMLElement | null;
  private laid: readonly LaidLane[] = [];
  private readonly resizing = new ResizeObserver(() => this.draw());
  private readonly theme = matchMedia("(prefers-color-scheme: dark)");
  private readonly themed = new MutationObserver(() => this.draw());

  override connectedCallback() {
    super.connectedCallback();
    if (this.plot) this.resizing.observe(this.plot);
    this.theme.addEventListener("change", this.draw);
    this.themed.observe(document.documentElement, { attributes: true, attributeFilter: ["class"] });
  }
  override disconnectedCallback() {
    super.disconnectedCallback();
    this.resizing.disconnect();
    this.themed.disconnect();
    this.theme.removeEventListener("change", this.draw);
  }

  protected override willUpdate(changed: PropertyValues<this>) {
    if (!changed.has("data") && !changed.has("lanes")) return;
    this.laid = this.data ? layLanes(this.data, this.lanes) : [];
    if (changed.has("data")) this.view = null;
  }

  protected override updated() {
    if (this.plot) this.resizing.observe(this.plot);
    this.draw();
  }

  /** Seconds in all. */
  private get length(): number {
    return this.data ? Math.max(this.data.step, this.data.count * this.data.step) : 1;
  }
  private get shown(): Stretch {
    return this.view ?? { from: 0, to: this.length };
  }

  protected override render() {
    if (!this.data || this.laid.length === 0) return nothing;
    const { shown, window, length } = this;
    const names = this.laid.map(({ spec }) => spec.label).join(", ");
    return html`
      <div class="plot" tabindex="0" role="img" style="height: ${heightOf(this.laid)}px"
        aria-label="${this.label}: ${names}, from ${clock(shown.from)} to ${clock(shown.to)} of ${clock(length)}. Arrows move, plus and minus come closer and go back, Home shows all."
        @pointerdown=${this.press} @pointermove=${this.move} @pointerup=${this.release} @pointerleave=${() => (this.pointed = null)}
        @wheel=${this.wheel} @keydown=${this.onKey} @dblclick=${() => this.choose(null)}>
        <canvas aria-hidden="true"></canvas>
      </div>
      <div class="read" aria-hidden="true">${this.reading()}</div>
      <div class="tools">
        <button @click=${() => this.zoom(0.5)}>Closer</button>
        <button @click=${() => this.zoom(2)} ?disabled=${!this.view}>Farther</button>
        <button @click=${() => this.pan(-0.5)} ?disabled=${!this.view}>Earlier</button>
        <button @click=${() => this.pan(0.5)} ?disabled=${!this.view}>Later</button>
        <button @click=${() => (this.view = null)} ?disabled=${!this.view}>Whole log</button>
        <span>Only readings</span>
        ${this.end("from", window?.from ?? 0)} ${this.end("to", window?.to ?? length)}
        <button @click=${() => this.choose(null)} ?disabled=${!window}>All of it</button>
      </div>`;
  }

  private end(side: "from" | "to", value: number) {
    return html`<fw-number-field .label=${side} .value=${value} unit="s" .decimals=${1} .min=${0} required
      @fw-value-change=${({ detail }: ValueChangeEvent) => {
        const next = { from: 0, to: this.length, ...this.window, [side]: detail.value ?? 0 };
        if (next.to > next.from) this.choose(next);
      }}></fw-number-field>`;
  }

  /** The values at the pointer, in words. */
  private reading() {
    const { pointed, data } = this;
    if (pointed === null || !data)
      return `${this.removed ? "Shaded: not counted. " : ""}Drag over a stretch to keep only its readings.`;
    return html`<span>at <b>${clock(pointed, 0.5)}</b></span>${this.laid.map(({ spec, lines }) => {
      const line = lines.find(({ thin }) => !thin)!;
      const { high } = traceColumns(line.lane, data.step, pointed, pointed + data.step, 1);
      return Number.isNaN(high[0]!)
        ? nothing
        : html`<span>${spec.label} <b>${high[0]!.toFixed(spec.decimals)}</b> ${spec.unit}</span>`;
    })}`;
  }

  private readonly draw = () => {
    const { canvas, data } = this;
    if (!canvas || !data || canvas.clientWidth <= GUTTER) return;
    drawTrace(
      canvas,
      data,
      this.laid,
      this.removed,
      this.shown,
      this.brushed ?? this.window,
      this.pointed,
      inksOf(this),
    );
  };

  private choose(window: Stretch | null) {
    this.brushed = null;
    this.dispatchEvent(new TraceWindowEvent(window));
  }

  private timeAt(event: MouseEvent): number {
    const { left, width } = this.plot!.getBoundingClientRect();
    const share = Math.min(1, Math.max(0, (event.clientX - left - GUTTER) / (width - GUTTER)));
    const { from, to } = this.shown;
    return from + share * (to - from);
  }

  private began = 0;
  private press = (event: PointerEvent) => {
    if (event.button !== 0) return;
    this.plot!.setPointerCapture(event.pointerId);
    this.began = this.timeAt(event);
  };
  private move = (event: PointerEvent) => {
    this.pointed = this.timeAt(event);
    if (!this.plot!.hasPointerCapture(event.pointerId)) return;
    const [from, to] = [this.began, this.pointed].sort((a, b) => a - b) as [number, number];
    this.brushed = { from, to };
  };
  private release = () => {
    const { brushed, shown } = this;
    this.brushed = null;
    // A click is no stretch.
    if (brushed && brushed.to - brushed.from > 0.005 * (shown.to - shown.from)) this.choose(brushed);
  };

  /** The wheel scrolls the page, unless the plot has the focus or Control is held. */
  private wheel = (event: WheelEvent) => {
    if (!event.ctrlKey && this.shadowRoot?.activeElement !== this.plot) return;
    event.preventDefault();
    this.zoom(Math.exp(event.deltaY * 0.002), this.timeAt(event));
  };

  private onKey = (event: KeyboardEvent) => {
    const acts: Record<string, () => void> = {
      ArrowLeft: () => this.pan(-0.1),
      ArrowRight: () => this.pan(0.1),
      "+": () => this.zoom(0.5),
      "=": () => this.zoom(0.5),
      "-": () => this.zoom(2),
      Home: () => {
        this.view = null;
      },
    };
    const act = event.ctrlKey || event.metaKey || event.altKey ? undefined : acts[event.key];
    if (!act) return;
    event.preventDefault();
    act();
  };

  private zoom(by: number, around = (this.shown.from + this.shown.to) / 2) {
    const { from, to } = this.shown;
    const wide = Math.min(this.length, Math.max(CLOSEST, (to - from) * by));
    this.show(around - ((around - from) / (to - from)) * wide, wide);
  }
  private pan(by: number) {
    const { from, to } = this.shown;
    this.show(from + by * (to - from), to - from);
  }
  private show(from: number, wide: number) {
    const start = Math.min(this.length - wide, Math.max(0, from));
    this.view = wide >= this.length ? null : { from: start, to: start + wide };
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fw-log-trace": LogTrace;
  }
  interface HTMLElementEventMap {
    "fw-trace-window": TraceWindowEvent;
  }
}
