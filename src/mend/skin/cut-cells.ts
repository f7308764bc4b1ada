import type { PegwrightError } from '../../errors.ts';
import { growingU32 } from '../../io/bytes/growing.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { generalisedWinding, type WindingTree } from '../winding/generalised-winding.ts';
import { type SparseGrid, UNCUT, UNSEEN } from './sparse-grid.ts';
import { RE_SKIN } from './tuning.ts';

/** The cells of a grid that the surface passes through. */
export interface CutCells {
  grid: SparseGrid;
  /** i, j, k per cell. */
  places: Uint32Array;
  /** Which of the eight corners are inside: bit c for the corner at (c & 1, c >> 1 & 1, c >> 2 & 1). */
  masks: Uint8Array;
}

/** Most cells there may be, and the refusal where there are more. */
export interface CellLimit {
  cells: number;
  refuse: (cells: number) => PegwrightError;
}

/**
 * Finds them from every grid edge that a triangle crosses, following the surface from cell to cell where it leaves
 * the triangles to close a hole. A winding number is harmonic away from the triangles, so by the maximum principle no
 * level of it closes up without meeting one; a piece is missed only if it meets triangles between grid lines alone.
 * Nodes on the grid's border count as outside, so that the surface closes.
 * @throws PegwrightError the limit's refusal, when more cells are met than it allows, those over holes counted.
 */
export function findCutCells(
  mesh: Mesh,
  winding: WindingTree,
  grid: SparseGrid,
  limit: CellLimit,
  onProgress: (done: number) => void,
): CutCells {
  const search = new CellSearch(winding, grid, limit);
  const count = mesh.triangles.length;
  for (let i = 0; i < count; i += 3) {
    if (i % 3072 === 0) onProgress(i / count);
    search.seedTriangle(mesh, i);
    search.follow();
  }
  return search.finish();
}

class CellSearch {
  readonly #winding: WindingTree;
  readonly #grid: SparseGrid;
  readonly #limit: CellLimit;
  /** Cells to look at, i, j, k each. */
  readonly #queue = growingU32();
  readonly #places = growingU32();
  readonly #masks = growingU32();
  readonly #corners = new Float64Array(9);

  constructor(winding: WindingTree, grid: SparseGrid, limit: CellLimit) {
    this.#winding = winding;
    this.#grid = grid;
    this.#limit = limit;
  }

  /** Queues the four cells about every grid edge that the triangle (first corner at `i`) crosses. */
  seedTriangle({ positions: p, triangles: t }: Mesh, i: number): void {
    const c = this.#corners;
    const { origin, cellMm } = this.#grid;
    for (let v = 0; v < 3; v++)
      for (let k = 0; k < 3; k++) c[v * 3 + k] = (p[t[i + v] * 3 + k] - origin[k]) / cellMm;
    for (let axis = 0; axis < 3; axis++) this.#seedAlong(axis, (axis + 1) % 3, (axis + 2) % 3);
  }

  /** Crosses the triangle in `#corners` (grid units) with the grid lines along `axis`; u and v are the other two. */
  #seedAlong(axis: number, u: number, v: number): void {
    const c = this.#corners;
    const vFrom = Math.ceil(Math.min(c[v], c[3 + v], c[6 + v]));
    const vTo = Math.floor(Math.max(c[v], c[3 + v], c[6 + v]));
    if (vFrom > vTo) return;
    const uFrom = Math.ceil(Math.min(c[u], c[3 + u], c[6 + u]));
    const uTo = Math.floor(Math.max(c[u], c[3 + u], c[6 + u]));
    for (let y = vFrom; y <= vTo; y++) {
      for (let x = uFrom; x <= uTo; x++) {
        const wa = (c[3 + u] - x) * (c[6 + v] - y) - (c[6 + u] - x) * (c[3 + v] - y);
        const wb = (c[6 + u] - x) * (c[v] - y) - (c[u] - x) * (c[6 + v] - y);
        const wc = (c[u] - x) * (c[3 + v] - y) - (c[3 + u] - x) * (c[v] - y);
        const sum = wa + wb + wc;
        if (sum === 0 || (sum > 0 ? wa < 0 || wb < 0 || wc < 0 : wa > 0 || wb > 0 || wc > 0)) continue;
        const along = Math.floor((wa * c[axis] + wb * c[3 + axis] + wc * c[6 + axis]) / sum);
        this.#seedAbout(axis, along, x, y);
      }
    }
  }

  #seedAbout(axis: number, along: number, x: number, y: number): void {
    for (let q = 0; q < 4; q++) {
      const a = x - (q & 1);
      const b = y - (q >> 1);
      if (axis === 0) this.#look(along, a, b);
      else if (axis === 1) this.#look(b, along, a);
      else this.#look(a, b, along);
    }
  }

  /** Puts a cell nobody has looked at in the queue. */
  #look(i: number, j: number, k: number): void {
    const { size } = this.#grid;
    if (i < 0 || j < 0 || k < 0 || i >= size[0] - 1 || j >= size[1] - 1 || k >= size[2] - 1) return;
    const at = this.#grid.address(i, j, k);
    if (this.#grid.slots[at] !== UNSEEN) return;
    this.#grid.slots[at] = UNCUT;
    this.#queue.push3(i, j, k);
  }

  /** Empties the queue: cuts cells, and queues the neighbours that a cut cell's surface leaves for. */
  follow(): void {
    const queue = this.#queue;
    while (queue.length > 0) {
      queue.length -= 3;
      const { array, length } = queue;
      const i = array[length];
      const j = array[length + 1];
      const k = array[length + 2];
      const mask = this.#maskOf(i, j, k);
      if (mask === 0 || mask === 255) continue;
      this.#keep(i, j, k, mask);
      if (isMixed(mask & LOW_X, LOW_X)) this.#look(i - 1, j, k);
      if (isMixed(mask & HIGH_X, HIGH_X)) this.#look(i + 1, j, k);
      if (isMixed(mask & LOW_Y, LOW_Y)) this.#look(i, j - 1, k);
      if (isMixed(mask & HIGH_Y, HIGH_Y)) this.#look(i, j + 1, k);
      if (isMixed(mask & LOW_Z, LOW_Z)) this.#look(i, j, k - 1);
      if (isMixed(mask & HIGH_Z, HIGH_Z)) this.#look(i, j, k + 1);
    }
  }

  #keep(i: number, j: number, k: number, mask: number): void {
    const cells = this.#masks.length;
    if (cells >= this.#limit.cells) throw this.#limit.refuse(cells + 1);
    this.#grid.slots[this.#grid.address(i, j, k)] = cells;
    this.#places.push3(i, j, k);
    this.#masks.push(mask);
  }

  #maskOf(i: number, j: number, k: number): number {
    let mask = 0;
    for (let c = 0; c < 8; c++) {
      if (this.#value(i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2)) >= RE_SKIN.inside) mask |= 1 << c;
    }
    return mask;
  }

  #value(i: number, j: number, k: number): number {
    const grid = this.#grid;
    const at = grid.address(i, j, k);
    const known = grid.values[at];
    if (!Number.isNaN(known)) return known;
    const { origin, cellMm, size } = grid;
    const border =
      i === 0 || j === 0 || k === 0 || i === size[0] - 1 || j === size[1] - 1 || k === size[2] - 1;
    const value = border
      ? 0
      : generalisedWinding(
          this.#winding,
          origin[0] + i * cellMm,
          origin[1] + j * cellMm,
          origin[2] + k * cellMm,
        );
    grid.values[at] = value;
    return grid.values[at];
  }

  finish(): CutCells {
    return { grid: this.#grid, places: this.#places.take(), masks: Uint8Array.from(this.#masks.take()) };
  }
}

/** Corners on the six sides of a cell. */
const LOW_X = 0b01010101;
const HIGH_X = 0b10101010;
const LOW_Y = 0b00110011;
const HIGH_Y = 0b11001100;
const LOW_Z = 0b00001111;
const HIGH_Z = 0b11110000;

const isMixed = (inside: number, side: number): boolean => inside !== 0 && inside !== side;
