import type { Mesh } from '../../src/mesh/mesh.ts';

/** Looks for crossings and folds among all pairs of a small mesh's triangles, apart from the engine. */

type Point = [number, number, number];

const sub = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * Six times the volume a, b, c, d span; its sign says on which side of abc d lies. What doubles cannot tell from
 * nothing is nothing: differences of singles are exact, and the products err by some 1e-15 of their size.
 */
function volume(a: Point, b: Point, c: Point, d: Point): number {
  const [u, v, w] = [sub(b, a), sub(c, a), sub(d, a)];
  const six = dot(cross(u, v), w);
  return Math.abs(six) < 1e-14 * Math.hypot(...u) * Math.hypot(...v) * Math.hypot(...w) ? 0 : six;
}

/** Whether a segment passes through the inside of a triangle. */
function pierces(p: Point, q: Point, [a, b, c]: Point[]): boolean {
  if (volume(a, b, c, p) * volume(a, b, c, q) >= 0) return false;
  const turns = [volume(p, q, a, b), volume(p, q, b, c), volume(p, q, c, a)];
  return turns.every((v) => v > 0) || turns.every((v) => v < 0);
}

/** Whether two triangles that share an edge lie on each other: folded flat, both on the same side of it. */
function folded(shared: Point[], mine: Point, other: Point): boolean {
  const [a, b] = shared;
  const n = cross(sub(b, a), sub(mine, a));
  const m = cross(sub(b, a), sub(other, a));
  const sine = Math.hypot(...cross(n, m)) / (Math.hypot(...n) * Math.hypot(...m));
  return dot(n, m) > 0 && sine < 1e-9;
}

/** Pairs of triangles that pass through each other or are folded onto each other. */
export function selfCrossings({ positions, triangles }: Mesh): [number, number][] {
  const point = (v: number): Point => [positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]];
  const faces = Array.from({ length: triangles.length / 3 }, (_, t) => {
    const corners = [...triangles.subarray(t * 3, t * 3 + 3)];
    const points = corners.map(point);
    const low = [0, 1, 2].map((k) => Math.min(...points.map((p) => p[k])));
    const high = [0, 1, 2].map((k) => Math.max(...points.map((p) => p[k])));
    return { t, corners, points, low, high };
  }).sort((f, g) => f.low[0] - g.low[0]);
  const found: [number, number][] = [];
  for (let i = 0; i < faces.length; i++) {
    const f = faces[i];
    for (let j = i + 1; j < faces.length && faces[j].low[0] <= f.high[0]; j++) {
      const g = faces[j];
      if (f.low[1] > g.high[1] || g.low[1] > f.high[1] || f.low[2] > g.high[2] || g.low[2] > f.high[2])
        continue;
      const shared = f.corners.filter((v) => g.corners.includes(v));
      const free = (face: typeof f) => face.points.filter((_, k) => !shared.includes(face.corners[k]));
      const hit =
        shared.length === 2
          ? folded(shared.map(point), free(f)[0], free(g)[0])
          : edgesOff(f, shared).some(([p, q]) => pierces(p, q, g.points)) ||
            edgesOff(g, shared).some(([p, q]) => pierces(p, q, f.points));
      if (hit) found.push([f.t, g.t]);
    }
  }
  return found;
}

/** A triangle's edges, without those that end at a corner it shares: there they meet and do not cross. */
const edgesOff = (
  { corners, points }: { corners: number[]; points: Point[] },
  shared: number[],
): [Point, Point][] =>
  [0, 1, 2].flatMap((k) => {
    const j = (k + 1) % 3;
    return shared.includes(corners[k]) || shared.includes(corners[j]) ? [] : [[points[k], points[j]]];
  });

/** Vertices whose triangles make more than one fan, or a fan that is not closed. */
export function badVertices({ triangles: t }: Mesh): number[] {
  const next = new Map<number, Map<number, number>>();
  for (let i = 0; i < t.length; i++) {
    const base = i - (i % 3);
    const around = next.get(t[i]) ?? new Map<number, number>();
    next.set(t[i], around.set(t[base + ((i + 1) % 3)], t[base + ((i + 2) % 3)]));
  }
  return [...next].flatMap(([vertex, around]) => {
    const [start] = around.keys();
    let steps = 0;
    let at: number | undefined = start;
    do {
      at = around.get(at);
      steps++;
    } while (at !== undefined && at !== start && steps <= around.size);
    return at === start && steps === around.size ? [] : [vertex];
  });
}
