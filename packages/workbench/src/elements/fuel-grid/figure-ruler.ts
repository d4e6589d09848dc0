import type { FuelTable } from "@fuelwright/table-core";
import type { CellDisplay } from "./cell-display.ts";

/** How wide figures are in the grid's font, in px. */
export interface FigureMeasures {
  /** Characters of the longest figure, without its minus; every figure is padded to it. */
  readonly characters: number;
  /** Width of so many characters. */
  readonly width: number;
  /** Width of a space between two words. */
  readonly space: number;
  /** Width of a minus, 0 in a table that shows none. */
  readonly minus: number;
  /** Whether the grid's own font can't keep columns straight, so that a monospaced one stands in for it. */
  readonly monospaced: boolean;
  /** Width of a figure with fewer characters before its point. */
  widthOf(characters: number): number;
}

interface Widths {
  readonly key: string;
  readonly digit: number;
  readonly figure: number;
  readonly space: number;
}

/** Repeated so often, a width is known to a fraction of a px that a row of 256 cells does not add up to one. */
const REPEATS = 64;

/** Measures figures in the font that a probe has, once for each length and size. */
export class FigureRuler {
  private known: Widths | null = null;
  private monospaced = false;

  /** @param probe - an unseen element with the style of a figure */
  constructor(private readonly probe: HTMLElement) {}

  /** Of the figures that the table shows. */
  measure(table: FuelTable, display: CellDisplay, fontSize: number): FigureMeasures {
    let most = 0;
    let minus = false;
    for (const value of table.cells) {
      const shown = display.show(value);
      if (shown < 0) minus = true;
      const size = Math.abs(shown);
      if (size > most && size < Number.POSITIVE_INFINITY) most = size;
    }
    const { decimals } = display;
    // Room for a first digit more or less, so that editing does not widen the grid at once.
    const characters = Math.max(decimals > 0 ? decimals + 2 : 2, most.toFixed(decimals).length);
    const { digit, figure, space } = this.widths(characters, decimals, fontSize);
    return {
      characters,
      width: figure,
      space,
      monospaced: this.monospaced,
      minus: minus ? Math.round(fontSize * 0.55) : 0,
      widthOf: (count) => figure - (characters - count) * digit,
    };
  }

  private widths(characters: number, decimals: number, fontSize: number): Widths {
    const key = `${characters} ${decimals} ${fontSize}`;
    if (this.known?.key !== key) {
      const figureOf = (digit: string) =>
        decimals > 0
          ? `${digit.repeat(characters - decimals - 1)}.${digit.repeat(decimals)}`
          : digit.repeat(characters);
      const [eights, ones, blanks, spaced, digit] = this.read(fontSize, [
        figureOf("8"),
        figureOf("1"),
        figureOf("\u2007"),
        `${figureOf("8")} `,
        "8",
      ]);
      this.known = { key, digit: digit!, figure: eights!, space: spaced! - eights! };
      // Figures of one width are what keeps columns straight; a font without them is replaced by a monospaced one.
      const even = Math.abs(ones! - eights!) < 0.01 && Math.abs(blanks! - eights!) < 0.01;
      if (!even && !this.monospaced) {
        this.monospaced = true;
        this.known = null;
        return this.widths(characters, decimals, fontSize);
      }
    }
    return this.known;
  }

  private read(fontSize: number, texts: readonly string[]): number[] {
    this.probe.style.fontSize = `${fontSize}px`;
    this.probe.classList.toggle("monospaced", this.monospaced);
    const widths = texts.map((text) => {
      this.probe.textContent = text.repeat(REPEATS);
      return this.probe.getBoundingClientRect().width / REPEATS;
    });
    // Unseen text as long as this would still make a narrow page scroll.
    this.probe.textContent = "";
    return widths;
  }
}
