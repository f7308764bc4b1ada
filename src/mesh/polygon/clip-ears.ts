import { TOLERANCES } from '../../math/tolerances.ts';

/**
 * Triangulation of a plane polygon by clipping ears (Meisters, *American Mathematical Monthly* 82(6), 1975).
 * Cutting off one ear changes only whether its two neighbours are ears (O'Rourke, *Computational Geometry in C*,
 * 2nd ed. 1998, §1.4), so every corner is judged a few times, each against the reflex corners in
 * the cells that its box meets. Ears are cut off beside one another, so they grow long, and long boxes meet many cells:
 * time grows with nearly the square of the corners, by count 3.1 to 4 times for twice as many; a comb of 10,000 takes 0.3 s.
 */
export function clipEars(flat: Float64Array): Uint32Array {
  const ring = new Ring(flat);
  const out = new Uint32Array(flat.length / 2 > 2 ? (flat.length / 2 - 2) * 3 : 0);
  let filled = 0;
  while (ring.size > 2) {
    const tip = ring.nextEar();
    out[filled++] = ring.before[tip];
    out[filled++] = tip;
    out[filled++] = ring.after[tip];
    ring.remove(tip);
  }
  return out;
}

/** The corners not cut off yet, as a ring, and which of them may be ears. */
class Ring {
  size: number;
  readonly before: Uint32Array;
  readonly after: Uint32Array;
  readonly #flat: Float64Array;
  readonly #isReflex: Uint8Array;
  #grid: Grid;
  #reflexCount: number;
  /** Corners to be judged, last first. */
  readonly #pending: number[] = [];
  readonly #isGone: Uint8Array;
  /** A corner still there. */
  #alive = 0;

  constructor(flat: Float64Array) {
    const n = flat.length / 2;
    this.size = n;
    this.#flat = flat;
    this.before = Uint32Array.from({ length: n }, (_, i) => (i + n - 1) % n);
    this.after = Uint32Array.from({ length: n }, (_, i) => (i + 1) % n);
    this.#isGone = new Uint8Array(n);
    this.#isReflex = Uint8Array.from({ length: n }, (_, i) => (this.#turnsLeft(i) ? 0 : 1));
    this.#reflexCount = this.#isReflex.reduce((count, one) => count + one, 0);
    this.#grid = new Grid(flat, this.#isReflex, this.#reflexCount);
    for (let i = n - 1; i >= 0; i--) this.#pending.push(i);
  }

  /** An ear's tip; any corner where a polygon that crosses or touches itself has no ear. */
  nextEar(): number {
    for (let tip = this.#pending.pop(); tip !== undefined; tip = this.#pending.pop()) {
      if (this.#isGone[tip] === 0 && this.#isEar(tip)) return tip;
    }
    return this.#alive;
  }

  remove(tip: number): void {
    const { before, after } = this;
    const a = before[tip];
    const b = after[tip];
    after[a] = b;
    before[b] = a;
    this.#isGone[tip] = 1;
    this.#setReflex(tip, 0);
    this.#alive = a;
    this.size--;
    for (const corner of [a, b]) {
      this.#setReflex(corner, this.#turnsLeft(corner) ? 0 : 1);
      this.#pending.push(corner);
    }
    // A grid half full of corners that no longer matter costs more than a new one.
    if (this.#reflexCount * 2 < this.#grid.builtFrom) {
      this.#grid = new Grid(this.#flat, this.#isReflex, this.#reflexCount);
    }
  }

  #setReflex(corner: number, reflex: 0 | 1): void {
    this.#reflexCount += reflex - this.#isReflex[corner];
    this.#isReflex[corner] = reflex;
  }

  #turnsLeft(i: number): boolean {
    return turnsLeft(this.#flat, this.before[i], i, this.after[i]);
  }

  #isEar(tip: number): boolean {
    if (this.#isReflex[tip] === 1) return false;
    return !this.#grid.anyInside(this.before[tip], tip, this.after[tip]);
  }
}

/**
 * True where the way from `a` over `b` to `c` turns left by more than rounding could make it,
 * for corners that lie in a row come out of a slanting plane as almost straight.
 */
export function turnsLeft(flat: Float64Array, a: number, b: number, c: number): boolean {
  const ux = flat[b * 2] - flat[a * 2];
  const uy = flat[b * 2 + 1] - flat[a * 2 + 1];
  const vx = flat[c * 2] - flat[b * 2];
  const vy = flat[c * 2 + 1] - flat[b * 2 + 1];
  const least = TOLERANCES.straightCorner * Math.sqrt((ux * ux + uy * uy) * (vx * vx + vy * vy));
  return ux * vy - uy * vx > least;
}

/** Twice the signed area of the triangle of three corners. */
function cross(flat: Float64Array, a: number, b: number, c: number): number {
  const x = flat[a * 2];
  const y = flat[a * 2 + 1];
  return (flat[b * 2] - x) * (flat[c * 2 + 1] - y) - (flat[b * 2 + 1] - y) * (flat[c * 2] - x);
}

/** Reflex corners by cells, about one to a cell, so that a small triangle meets only those near it. */
class Grid {
  readonly #flat: Float64Array;
  readonly #isReflex: Uint8Array;
  /** Corners the grid holds, with those that stopped being reflex since. */
  readonly builtFrom: number;
  /** Areas down to this much below zero count as none. */
  readonly #slack: number;
  readonly #side: number;
  readonly #origin: [number, number];
  readonly #cellsPerUnit: [number, number];
  /** Corners of cell c: `#corners` from `#starts[c]` to `#starts[c + 1]`. */
  readonly #starts: Uint32Array;
  readonly #corners: Uint32Array;

  /** @param isReflex live: corners that stop being reflex are passed over. */
  constructor(flat: Float64Array, isReflex: Uint8Array, reflexCount: number) {
    this.#flat = flat;
    this.#isReflex = isReflex;
    this.builtFrom = reflexCount;
    this.#side = Math.max(1, Math.floor(Math.sqrt(reflexCount)));
    const [lowX, highX] = span(flat, 0);
    const [lowY, highY] = span(flat, 1);
    this.#slack = -TOLERANCES.straightCorner * Math.max(highX - lowX, highY - lowY) ** 2;
    this.#origin = [lowX, lowY];
    this.#cellsPerUnit = [this.#side / (highX - lowX || 1), this.#side / (highY - lowY || 1)];
    this.#starts = new Uint32Array(this.#side ** 2 + 2);
    this.#corners = new Uint32Array(reflexCount);
    const cellOf = (i: number) => this.#cell(flat[i * 2], 0) + this.#cell(flat[i * 2 + 1], 1) * this.#side;
    for (let i = 0; i < isReflex.length; i++) if (isReflex[i] === 1) this.#starts[cellOf(i) + 2]++;
    for (let c = 2; c < this.#starts.length; c++) this.#starts[c] += this.#starts[c - 1];
    for (let i = 0; i < isReflex.length; i++) {
      if (isReflex[i] === 1) this.#corners[this.#starts[cellOf(i) + 1]++] = i;
    }
  }

  /** True where a reflex corner lies in or on the triangle, other than at its corners. */
  anyInside(a: number, b: number, c: number): boolean {
    const flat = this.#flat;
    const [x0, x1] = this.#cells(0, a, b, c);
    const [y0, y1] = this.#cells(1, a, b, c);
    for (let y = y0; y <= y1; y++) {
      // Cells of a row lie behind one another, and so do their corners.
      const end = this.#starts[y * this.#side + x1 + 1];
      for (let k = this.#starts[y * this.#side + x0]; k < end; k++) {
        const w = this.#corners[k];
        if (this.#isReflex[w] === 0 || isAt(flat, w, a) || isAt(flat, w, b) || isAt(flat, w, c)) continue;
        const slack = this.#slack;
        if (cross(flat, a, b, w) < slack || cross(flat, b, c, w) < slack) continue;
        if (cross(flat, c, a, w) >= slack) return true;
      }
    }
    return false;
  }

  /** First and last cell, along one axis, that the triangle's box meets. */
  #cells(axis: 0 | 1, a: number, b: number, c: number): [number, number] {
    const [p, q, r] = [this.#flat[a * 2 + axis], this.#flat[b * 2 + axis], this.#flat[c * 2 + axis]];
    return [this.#cell(Math.min(p, q, r), axis), this.#cell(Math.max(p, q, r), axis)];
  }

  #cell(value: number, axis: 0 | 1): number {
    const cell = Math.floor((value - this.#origin[axis]) * this.#cellsPerUnit[axis]);
    return Math.min(this.#side - 1, Math.max(0, cell));
  }
}

const isAt = (flat: Float64Array, i: number, j: number): boolean =>
  flat[i * 2] === flat[j * 2] && flat[i * 2 + 1] === flat[j * 2 + 1];

/** Least and greatest x (axis 0) or y (axis 1). */
function span(flat: Float64Array, axis: 0 | 1): [number, number] {
  let low = flat[axis];
  let high = low;
  for (let i = axis; i < flat.length; i += 2) {
    low = Math.min(low, flat[i]);
    high = Math.max(high, flat[i]);
  }
  return [low, high];
}
