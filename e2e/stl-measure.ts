/** What the browser tests measure on downloaded files, with code of their own. */

/** Corners of a binary STL's triangles, nine numbers each, mm. */
export function stlTriangles(bytes: Uint8Array): Float64Array[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = view.getUint32(80, true);
  if (bytes.byteLength !== 84 + 50 * count) throw new Error(`${count} facets in ${bytes.byteLength} bytes`);
  return Array.from({ length: count }, (_, t) =>
    Float64Array.from({ length: 9 }, (_, k) => view.getFloat32(84 + 50 * t + 12 + 4 * k, true)),
  );
}

/** Edges that no other triangle runs through the other way, corners compared by coordinates. */
export function openEdgeCount(triangles: readonly Float64Array[]): number {
  const ids = new Map<string, number>();
  const idOf = (t: Float64Array, c: number): number => {
    const key = `${t[c]},${t[c + 1]},${t[c + 2]}`;
    const id = ids.get(key) ?? ids.size;
    ids.set(key, id);
    return id;
  };
  const open = new Map<string, number>();
  for (const t of triangles) {
    const v = [idOf(t, 0), idOf(t, 3), idOf(t, 6)];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [v[k], v[(k + 1) % 3]];
      const back = open.get(`${b}>${a}`) ?? 0;
      if (back > 1) open.set(`${b}>${a}`, back - 1);
      else if (back === 1) open.delete(`${b}>${a}`);
      else open.set(`${a}>${b}`, (open.get(`${a}>${b}`) ?? 0) + 1);
    }
  }
  return [...open.values()].reduce((sum, n) => sum + n, 0);
}

type Point = readonly [number, number, number];

/**
 * Distances from samples on the sides of the pegs to the other part, mm. Pegs are all that the pegged part
 * has beyond the seam plane n·x = offset; sides are their triangles that lean less than 15° off upright.
 */
export function sideGaps(
  pegged: readonly Float64Array[],
  socketed: readonly Float64Array[],
  normal: Point,
  offset: number,
): number[] {
  const height = (t: Float64Array, c: number) =>
    t[c] * normal[0] + t[c + 1] * normal[1] + t[c + 2] * normal[2] - offset;
  const beyond = pegged.filter((t) => [0, 3, 6].some((c) => height(t, c) > 1e-3));
  const sides = beyond.filter((t) => Math.abs(lean(t, normal)) < Math.sin((15 * Math.PI) / 180));
  const box = boxOf(beyond, 1);
  const near = socketed.filter((t) => [0, 1, 2].every((k) => overlaps(t, k, box)));
  return sides.flatMap((t) => samples(t).map((p) => Math.min(...near.map((s) => distanceTo(p, s)))));
}

function lean(t: Float64Array, n: Point): number {
  const [u, v] = [3, 6].map((c) => [0, 1, 2].map((k) => t[c + k] - t[k]));
  const m = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
  return (m[0] * n[0] + m[1] * n[1] + m[2] * n[2]) / Math.hypot(...m);
}

function boxOf(triangles: readonly Float64Array[], margin: number): number[][] {
  return [0, 1, 2].map((k) => {
    const values = triangles.flatMap((t) => [t[k], t[k + 3], t[k + 6]]);
    return [
      values.reduce((a, b) => Math.min(a, b)) - margin,
      values.reduce((a, b) => Math.max(a, b)) + margin,
    ];
  });
}

const overlaps = (t: Float64Array, k: number, box: number[][]): boolean =>
  Math.min(t[k], t[k + 3], t[k + 6]) <= box[k][1] && Math.max(t[k], t[k + 3], t[k + 6]) >= box[k][0];

const samples = (t: Float64Array): Point[] => [
  [t[0], t[1], t[2]],
  [(t[0] + t[3] + t[6]) / 3, (t[1] + t[4] + t[7]) / 3, (t[2] + t[5] + t[8]) / 3],
];

/** Distance from a point to a triangle: to its plane where the foot lies inside, else to the nearest edge. */
function distanceTo(p: Point, t: Float64Array): number {
  const corner = (c: number): Point => [t[c], t[c + 1], t[c + 2]];
  const [a, b, c] = [corner(0), corner(3), corner(6)];
  const n = cross(minus(b, a), minus(c, a));
  const area = Math.hypot(...n);
  if (area > 0) {
    const inside = [
      [a, b],
      [b, c],
      [c, a],
    ].every(([from, to]) => dot(cross(minus(to, from), minus(p, from)), n) >= 0);
    if (inside) return Math.abs(dot(minus(p, a), n)) / area;
  }
  return Math.min(toSegment(p, a, b), toSegment(p, b, c), toSegment(p, c, a));
}

function toSegment(p: Point, a: Point, b: Point): number {
  const d = minus(b, a);
  const t = Math.min(1, Math.max(0, dot(minus(p, a), d) / (dot(d, d) || 1)));
  return Math.hypot(p[0] - a[0] - t * d[0], p[1] - a[1] - t * d[1], p[2] - a[2] - t * d[2]);
}

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

/** Volume within a closed surface, mm³: tetrahedra from the origin. */
export const volumeOf = (triangles: readonly Float64Array[]): number =>
  triangles.reduce((sum, t) => {
    const [a, b, c] = [0, 3, 6].map((k): Point => [t[k], t[k + 1], t[k + 2]]);
    return sum + dot(a, cross(b, c)) / 6;
  }, 0);
