import { RE_SKIN } from './tuning.ts';

/**
 * Gathers points with the planes through them and finds the point that lies on all planes as well as can be while
 * staying near the points' middle: least squares, as for dual contouring (Ju, Losasso, Schaefer & Warren, *Dual
 * Contouring of Hermite Data*, SIGGRAPH 2002). Started again from each answer (the proximal point method), so that
 * an edge or a corner is met as exactly as if nothing held the point back, and a flat place leaves it in the middle.
 */
export class PlaneMeeting {
  /** The answer. */
  readonly at = new Float64Array(3);
  #count = 0;
  #xx = 0;
  #yy = 0;
  #zz = 0;
  #xy = 0;
  #xz = 0;
  #yz = 0;
  /** Σ n (n·p). */
  readonly #pull = new Float64Array(3);

  start(): void {
    this.#count = 0;
    this.#xx = 0;
    this.#yy = 0;
    this.#zz = 0;
    this.#xy = 0;
    this.#xz = 0;
    this.#yz = 0;
    this.#pull.fill(0);
    this.at.fill(0);
  }

  /** A point and the unit normal of the plane through it; a zero normal for none. */
  add(x: number, y: number, z: number, nx: number, ny: number, nz: number): void {
    this.#count++;
    this.#xx += nx * nx;
    this.#yy += ny * ny;
    this.#zz += nz * nz;
    this.#xy += nx * ny;
    this.#xz += nx * nz;
    this.#yz += ny * nz;
    const offset = nx * x + ny * y + nz * z;
    this.#pull[0] += nx * offset;
    this.#pull[1] += ny * offset;
    this.#pull[2] += nz * offset;
    this.at[0] += x;
    this.at[1] += y;
    this.at[2] += z;
  }

  /** Puts the points' middle in `at`. */
  takeMiddle(): void {
    for (let k = 0; k < 3; k++) this.at[k] /= this.#count;
  }

  /** From the middle in `at` to where the planes meet. */
  meet(): void {
    const stay = RE_SKIN.stay * this.#count;
    const a = this.#xx + stay;
    const d = this.#yy + stay;
    const f = this.#zz + stay;
    const [b, c, e] = [this.#xy, this.#xz, this.#yz];
    // The inverse of a symmetric matrix by its cofactors; `stay` keeps its determinant away from zero.
    const aa = d * f - e * e;
    const bb = c * e - b * f;
    const cc = b * e - c * d;
    const dd = a * f - c * c;
    const ee = b * c - a * e;
    const ff = a * d - b * b;
    const scale = 1 / (a * aa + b * bb + c * cc);
    const at = this.at;
    for (let round = 0; round < RE_SKIN.rounds; round++) {
      const x = this.#pull[0] + stay * at[0];
      const y = this.#pull[1] + stay * at[1];
      const z = this.#pull[2] + stay * at[2];
      at[0] = (aa * x + bb * y + cc * z) * scale;
      at[1] = (bb * x + dd * y + ee * z) * scale;
      at[2] = (cc * x + ee * y + ff * z) * scale;
    }
  }
}
