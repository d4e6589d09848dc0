import type { ModelRow } from "./dynamics-pass.ts";
import type { NormalSums } from "./normal-sums.ts";

/** Seconds of readings that are taken as one when it is asked how they hang together. */
const BLOCK_SECONDS = 2;
/** Readings over which residuals are compared with themselves. */
const LONGEST_LAG = 200;

/**
 * What the residuals say once the fit stands: by cell, in time, and how far they hang together.
 *
 * Sums only, so that logs of any length pass through; call {@link add} reading by reading in order of time and
 * {@link endStretch} where a stretch ends.
 */
export class ResidualStudy {
  /** Σ weight·share of each cell, and with the residual and its square. */
  readonly share: Float64Array;
  readonly sum: Float64Array;
  readonly square: Float64Array;
  /** Σ over blocks of (Σ weight·share·residual)², the same as if readings were independent, and the blocks counted. */
  readonly together: Float64Array;
  readonly apart: Float64Array;
  readonly blocks: Float64Array;
  /** Σ over blocks of the extras' scores, cells fitted out, times themselves. */
  readonly extraTogether: Float64Array;
  count = 0;
  weight = 0;
  weightedSquare = 0;
  outliers = 0;
  /** Short runs of readings far on the lean side. */
  leanSpikes = 0;
  private readonly lagged = new Float64Array(LONGEST_LAG + 1);
  private readonly lagCount = new Float64Array(LONGEST_LAG + 1);
  private readonly ring = new Float64Array(LONGEST_LAG + 1);
  private ringCount = 0;
  private blockBegan = Number.NaN;
  private readonly touched: number[] = [];
  private readonly score: Float64Array;
  private readonly extraScore: Float64Array;
  private lastTime = Number.NaN;
  private leanSince = Number.NaN;

  /**
   * @param explained - for each extra, the cells that explain it (A+S)⁻¹·cross
   * @param scale - of one reading
   */
  constructor(
    cells: number,
    private readonly explained: readonly Float64Array[],
    private readonly scale: number,
  ) {
    this.share = new Float64Array(cells);
    this.sum = new Float64Array(cells);
    this.square = new Float64Array(cells);
    this.together = new Float64Array(cells);
    this.apart = new Float64Array(cells);
    this.blocks = new Float64Array(cells);
    this.score = new Float64Array(cells);
    this.extraScore = new Float64Array(explained.length);
    this.extraTogether = new Float64Array(explained.length ** 2);
  }

  add(time: number, row: ModelRow, residual: number, weight: number, extra: Float64Array): void {
    const since = time - this.lastTime;
    if (!(since >= 0 && since < 0.5)) this.endStretch();
    this.lastTime = time;
    if (!(time - this.blockBegan < BLOCK_SECONDS)) {
      this.closeBlock();
      this.blockBegan = time;
    }
    const pulled = weight * residual;
    const variance = this.scale * this.scale;
    for (let k = 0; k < row.size; k++) {
      const cell = row.cells[k]!;
      const share = row.values[k]!;
      const counted = weight * share;
      this.share[cell]! += counted;
      this.sum[cell]! += counted * residual;
      this.square[cell]! += counted * residual * residual;
      this.apart[cell]! += counted * counted * variance;
      if (this.score[cell] === 0) this.touched.push(cell);
      // Never back to an exact 0 while a block is open, so that a cell is listed once.
      this.score[cell] = this.score[cell]! + counted * residual || Number.MIN_VALUE;
    }
    for (let e = 0; e < this.extraScore.length; e++) this.extraScore[e]! += pulled * extra[e]!;
    this.count++;
    this.weight += weight;
    this.weightedSquare += pulled * residual;
    const size = residual / this.scale;
    if (Math.abs(size) > 5) this.outliers++;
    this.followLean(time, size);
    // Correlation is of what the fit is moved by: an outlier that is weighed down moves nothing.
    const moved = Math.sqrt(weight) * residual;
    const at = this.ringCount % this.ring.length;
    this.ring[at] = moved;
    this.ringCount++;
    const reach = Math.min(this.ringCount, LONGEST_LAG + 1);
    // Every fourth reading is compared: the correlation is smooth, and this would otherwise cost more than the fit.
    if (this.ringCount % 4 === 0)
      for (let lag = 0; lag < reach; lag++) {
        this.lagged[lag]! += moved * this.ring[(at - lag + this.ring.length) % this.ring.length]!;
        this.lagCount[lag]!++;
      }
  }

  endStretch(): void {
    this.closeBlock();
    this.ringCount = 0;
    this.leanSince = Number.NaN;
  }

  /**
   * How many readings in a row tell as much as one: 1 + 2·Σ of the correlations, up to the first pair that is not
   * positive.
   *
   * @see Geyer, Practical Markov chain Monte Carlo, Statistical Science 7 (1992) 473 (initial positive sequence)
   */
  inflation(): number {
    const at = (lag: number) => (this.lagCount[lag]! > 100 ? this.lagged[lag]! / this.lagCount[lag]! : 0);
    const zero = at(0);
    if (!(zero > 0)) return 1;
    let sum = 1;
    for (let lag = 1; lag < LONGEST_LAG; lag += 2) {
      const pair = (at(lag) + at(lag + 1)) / zero;
      if (pair <= 0.004) break;
      sum += 2 * pair;
    }
    return Math.max(1, sum);
  }

  /** A misfire sends unburnt air: lean by a tenth or so, for a few cycles. */
  private followLean(time: number, size: number): void {
    if (size > 5) {
      if (Number.isNaN(this.leanSince)) this.leanSince = time;
    } else if (!Number.isNaN(this.leanSince)) {
      if (time - this.leanSince < 0.5) this.leanSpikes++;
      this.leanSince = Number.NaN;
    }
  }

  private closeBlock(): void {
    const { extraScore, explained } = this;
    const extras = extraScore.length;
    for (const cell of this.touched) {
      const score = this.score[cell]!;
      this.together[cell]! += score * score;
      this.blocks[cell]!++;
      for (let e = 0; e < extras; e++) extraScore[e]! -= explained[e]![cell]! * score;
      this.score[cell] = 0;
    }
    this.touched.length = 0;
    for (let e = 0; e < extras; e++)
      for (let f = 0; f < extras; f++) this.extraTogether[e * extras + f]! += extraScore[e]! * extraScore[f]!;
    extraScore.fill(0);
  }
}

/** (A+S)⁻¹·cross for each extra: what the cells make of it. */
export const explainedBy = (sums: NormalSums, solve: (right: Float64Array) => Float64Array): Float64Array[] =>
  Array.from({ length: sums.extras }, (_, e) => solve(sums.cross.slice(e * sums.cells, (e + 1) * sums.cells)));
