import { makeRandom } from '../../src/demo/prng.ts';
import type { Soup } from './stl-bytes.ts';

/** Harm done to a figure's loose triangles, each a value of its seed; none changes what it was given. */

/** `count` different whole numbers below `below`. */
export function someOf(count: number, below: number, seed: number): Set<number> {
  const random = makeRandom(seed);
  const chosen = new Set<number>();
  while (chosen.size < count) chosen.add(Math.floor(random() * below));
  return chosen;
}

/** The triangles listed seen from their other side. */
export function flipped(soup: Soup, listed: Iterable<number>): Soup {
  const damaged = soup.slice();
  for (const t of listed) {
    damaged.set(soup.subarray(t * 9 + 6, t * 9 + 9), t * 9 + 3);
    damaged.set(soup.subarray(t * 9 + 3, t * 9 + 6), t * 9 + 6);
  }
  return damaged;
}

export const insideOut = (soup: Soup): Soup =>
  flipped(
    soup,
    Array.from({ length: soup.length / 9 }, (_, t) => t),
  );

export const removed = (soup: Soup, listed: ReadonlySet<number>): Soup =>
  soup.filter((_, i) => !listed.has(Math.floor(i / 9)));

/** The triangles listed once more, at the end. */
export function doubled(soup: Soup, listed: Iterable<number>): Soup {
  const again = [...listed].map((t) => soup.subarray(t * 9, t * 9 + 9));
  return joined(soup, ...again);
}

export function joined(...soups: Soup[]): Soup {
  const all = new Float32Array(soups.reduce((n, soup) => n + soup.length, 0));
  let at = 0;
  for (const soup of soups) {
    all.set(soup, at);
    at += soup.length;
  }
  return all;
}

/** Every corner of every triangle moved by itself, up to `far` along each axis, mm. */
export function jittered(soup: Soup, far: number, seed: number): Soup {
  const random = makeRandom(seed);
  return soup.map((v) => v + (random() * 2 - 1) * far);
}

/**
 * Cut along the loop of edges in which the triangles on either side of a plane (x, y or z = at, by their middle) meet:
 * the triangles above have corners of their own, moved by `by` where they lie on the loop.
 */
export function cutOpen(soup: Soup, axis: number, at: number, by: readonly number[]): Soup {
  const isAbove = (t: number) => [0, 3, 6].reduce((sum, c) => sum + soup[t * 9 + c + axis], 0) > 3 * at;
  const keyOf = (v: number) => `${soup[v * 3]} ${soup[v * 3 + 1]} ${soup[v * 3 + 2]}`;
  const below = new Set<string>();
  for (let v = 0; v < soup.length / 3; v++) if (!isAbove(Math.floor(v / 3))) below.add(keyOf(v));
  const damaged = soup.slice();
  for (let v = 0; v < soup.length / 3; v++) {
    if (!isAbove(Math.floor(v / 3)) || !below.has(keyOf(v))) continue;
    for (let k = 0; k < 3; k++) damaged[v * 3 + k] += by[k];
  }
  return damaged;
}

/** Loose triangles of an indexed mesh. */
export const soupOf = ({
  positions,
  triangles,
}: {
  positions: Float32Array;
  triangles: Uint32Array;
}): Soup => {
  const soup = new Float32Array(triangles.length * 3);
  triangles.forEach((v, i) => {
    for (let k = 0; k < 3; k++) soup[i * 3 + k] = positions[v * 3 + k];
  });
  return soup;
};

/** Length of the diagonal of the box around. */
export function diagonalOf(soup: Soup): number {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  soup.forEach((v, i) => {
    low[i % 3] = Math.min(low[i % 3], v);
    high[i % 3] = Math.max(high[i % 3], v);
  });
  return Math.hypot(...low.map((v, k) => high[k] - v));
}

/** Area of all triangles. */
export function areaOf(soup: Soup): number {
  let area = 0;
  for (let i = 0; i < soup.length; i += 9) {
    const [ux, uy, uz, vx, vy, vz] = [3, 4, 5, 6, 7, 8].map((k) => soup[i + k] - soup[i + (k % 3)]);
    area += Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
  }
  return area;
}
