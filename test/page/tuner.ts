import type { BenchPage } from "./bench-page.ts";
import { applyEdit, type Edit, type Model, modelWords } from "./random-edits.ts";

export interface Breakpoints {
  /** From left to right on the screen. */
  readonly rpm: readonly number[];
  /** From top to bottom on the screen. */
  readonly load: readonly number[];
}

type Place = readonly [key: string, x: number, y: number];
const arrows: readonly Place[] = [
  ["ArrowLeft", -1, 0],
  ["ArrowRight", 1, 0],
  ["ArrowUp", 0, -1],
  ["ArrowDown", 0, 1],
];

let figures = 0;
/** A figure that no other step near it has. */
const nextFigure = () => (101 + (figures++ % 799)) / 100;

/** Somebody who edits the grid at random, and knows what it must hold. */
export class Tuner {
  /** What the job must be after each edit, the first before all of them. An edit is in flight from the moment it is here. */
  readonly sent: Model[];
  /** The place in `sent` that the page last said to be kept. */
  kept = 0;
  private x: number;
  private y: number;

  /** @param random - numbers from 0 to below 1 */
  constructor(
    private readonly bench: BenchPage,
    private readonly cells: Breakpoints,
    private readonly random: () => number,
    start: Model,
  ) {
    this.sent = [start];
    this.x = this.below(cells.rpm.length);
    this.y = this.below(cells.load.length);
  }

  get model(): Model {
    return this.sent.at(-1)!;
  }

  /** Puts the focus on the cell at hand. */
  async begin(): Promise<void> {
    await this.bench.cell(this.cells.rpm[this.x]!, this.cells.load[this.y]!).click();
  }

  async undo(): Promise<void> {
    // Behind the first state there is no table.
    if (this.model.past.length === 0) return;
    await this.edit({ kind: "undo" }, () => this.press("Control+z"));
  }

  async redo(): Promise<void> {
    await this.edit({ kind: "redo" }, () => this.press("Control+Shift+z"));
  }

  /** One edit of any kind, mostly a figure typed into a cell nearby. */
  async anything(): Promise<void> {
    const dice = this.random();
    if (dice < 0.12) await this.undo();
    else if (dice < 0.2) await this.redo();
    else if (dice < 0.27 && this.model.now.steps.length > 0) await this.switchStep();
    else await this.typeFigure();
  }

  /** Waits until the page says that the last edit is done, and that it is on the disk. */
  async acknowledged(): Promise<void> {
    const at = this.sent.length - 1;
    await this.bench.button(modelWords(this.model)[0]).waitFor();
    await this.bench.kept.waitFor();
    this.kept = at;
  }

  private async switchStep(): Promise<void> {
    const at = this.below(this.model.now.steps.length);
    await this.edit({ kind: "switch", at }, () => this.bench.stepSwitch(at + 1).click());
    await this.begin();
  }

  private async typeFigure(): Promise<void> {
    const { rpm, load } = this.cells;
    for (let moves = this.below(4); moves > 0; moves--) {
      const [key, dx, dy] = arrows[this.below(arrows.length)]!;
      this.x = Math.min(rpm.length - 1, Math.max(0, this.x + dx));
      this.y = Math.min(load.length - 1, Math.max(0, this.y + dy));
      await this.press(key);
    }
    const value = nextFigure();
    await this.bench.page.keyboard.type(String(value));
    await this.edit({ kind: "set", value, rpm: rpm[this.x]!, load: load[this.y]! }, () => this.press("Enter"));
  }

  private async edit(edit: Edit, act: () => Promise<unknown>): Promise<void> {
    this.sent.push(applyEdit(this.model, edit));
    await act();
  }

  private press(key: string): Promise<void> {
    return this.bench.page.keyboard.press(key);
  }

  private below(count: number): number {
    return Math.floor(this.random() * count);
  }
}
