import type { Bounds } from '../../mesh/measure.ts';
import { RE_SKIN } from './tuning.ts';

/** Nodes along a brick, as a power of two. */
const SHIFT = 3;
const SIDE = 1 << SHIFT;
const LOW = SIDE - 1;
const PER_BRICK = SIDE ** 3;
const NO_BRICK = -1;

/** A cell nobody has looked at yet; one without surface; others hold their place in the list of cut cells. */
export const UNSEEN = -1;
export const UNCUT = -2;

/**
 * A cubic grid over a box with a cell to spare all round, that holds numbers only near where it is asked: bricks of
 * 8 × 8 × 8 nodes, made as they are met. A cell has the indices of its least node. An address names a node's or
 * cell's place in `values` and `slots`; it stays good, while the arrays themselves change as bricks are made.
 */
export class SparseGrid {
  readonly cellMm: number;
  /** Place of node 0, 0, 0, mm. */
  readonly origin: readonly [number, number, number];
  /** Nodes along each axis. */
  readonly size: readonly [number, number, number];
  /** Winding number per node; NaN where not asked yet. */
  values = new Float32Array(0);
  /** Per cell `UNSEEN`, `UNCUT`, or its place among the cut cells. */
  slots = new Int32Array(0);
  readonly #bricks: Int32Array;
  readonly #across: readonly [number, number];
  #brickCount = 0;

  constructor({ min, max }: Bounds, cellMm: number) {
    this.cellMm = cellMm;
    const along = [0, 1, 2].map((k) => Math.ceil((max[k] - min[k]) / cellMm + RE_SKIN.offset) + 3);
    const start = [0, 1, 2].map((k) => min[k] - cellMm * (1 + RE_SKIN.offset));
    this.size = [along[0], along[1], along[2]];
    this.origin = [start[0], start[1], start[2]];
    const [x, y, z] = along.map((n) => (n + LOW) >> SHIFT);
    this.#across = [x, y];
    this.#bricks = new Int32Array(x * y * z).fill(NO_BRICK);
  }

  /** The address of a node or cell within the grid. */
  address(i: number, j: number, k: number): number {
    const at = (i >> SHIFT) + this.#across[0] * ((j >> SHIFT) + this.#across[1] * (k >> SHIFT));
    let brick = this.#bricks[at];
    if (brick === NO_BRICK) {
      brick = this.#makeBrick();
      this.#bricks[at] = brick;
    }
    return brick * PER_BRICK + (i & LOW) + SIDE * ((j & LOW) + SIDE * (k & LOW));
  }

  #makeBrick(): number {
    const needed = (this.#brickCount + 1) * PER_BRICK;
    if (needed > this.values.length) {
      const room = Math.max(needed, Math.ceil(this.values.length * 1.5), 64 * PER_BRICK);
      const values = new Float32Array(room).fill(Number.NaN, this.values.length);
      const slots = new Int32Array(room).fill(UNSEEN, this.slots.length);
      values.set(this.values);
      slots.set(this.slots);
      this.values = values;
      this.slots = slots;
    }
    return this.#brickCount++;
  }
}
