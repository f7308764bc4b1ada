/** Distances worked out the plain way, apart from the engine: candidates are tried one by one. */

export type Point = readonly [number, number, number];

const minus = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const times = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const across = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
const apart = (a: Point, b: Point): number =>
  Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2 + (a[2] - b[2]) ** 2);
const along = (a: Point, d: Point, t: number): Point => [a[0] + t * d[0], a[1] + t * d[1], a[2] + t * d[2]];

/** The point of segment a–b nearest to p. */
export function onSegment(p: Point, a: Point, b: Point): Point {
  const d = minus(b, a);
  const l = times(d, d);
  return l === 0 ? a : along(a, d, Math.min(1, Math.max(0, times(minus(p, a), d) / l)));
}

/** The point of a triangle nearest to p: the foot on its plane if that lies within, else the best of its edges'. */
export function onTriangle(p: Point, a: Point, b: Point, c: Point): Point {
  const n = across(minus(b, a), minus(c, a));
  const l = times(n, n);
  if (l > 0) {
    const foot = along(p, n, -times(minus(p, a), n) / l);
    if (isAhead(a, b, foot, n) && isAhead(b, c, foot, n) && isAhead(c, a, foot, n)) return foot;
  }
  let best = onSegment(p, a, b);
  for (const q of [onSegment(p, b, c), onSegment(p, c, a)]) if (apart(p, q) < apart(p, best)) best = q;
  return best;
}

/** True where q lies on the inner side of the edge a–b of a triangle with normal n. */
const isAhead = (a: Point, b: Point, q: Point, n: Point): boolean =>
  times(across(minus(b, a), minus(q, a)), n) >= 0;

/** Triangles as corner triples. */
export type Triangles = readonly (readonly [Point, Point, Point])[];

export const trianglesOf = (positions: ArrayLike<number>, triangles: ArrayLike<number>): Triangles =>
  Array.from({ length: triangles.length / 3 }, (_, t) => {
    const corner = (k: number): Point => {
      const v = triangles[t * 3 + k] * 3;
      return [positions[v], positions[v + 1], positions[v + 2]];
    };
    return [corner(0), corner(1), corner(2)] as const;
  });

/** The point of a surface nearest to p, every triangle tried, and how far off it is. */
export function onSurface(p: Point, surface: Triangles): { at: Point; distance: number } {
  let at = surface[0][0];
  let distance = Number.POSITIVE_INFINITY;
  for (const [a, b, c] of surface) {
    const q = onTriangle(p, a, b, c);
    const d = apart(p, q);
    if (d >= distance) continue;
    distance = d;
    at = q;
  }
  return { at, distance };
}

/** Points spread over a surface, `n` (n + 1) / 2 inside each triangle. */
export function samplesOn(surface: Triangles, n: number): Point[] {
  return surface.flatMap(([a, b, c]) => {
    const points: Point[] = [];
    for (let i = 0; i < n; i++) {
      for (let j = 0; i + j < n; j++) {
        const [u, v] = [(i + 1 / 3) / n, (j + 1 / 3) / n];
        points.push(along(along(a, minus(b, a), u), minus(c, a), v));
      }
    }
    return points;
  });
}

/** The frustum with a rectangle of `x` × `y` half widths at z = 0, sides leaning in by `draft` radians, from `bottom` to `top`. */
export function frustumSurface(x: number, y: number, draft: number, bottom: number, top: number): Triangles {
  const square = (z: number): Point[] => {
    const [hx, hy] = [x - z * Math.tan(draft), y - z * Math.tan(draft)];
    return [
      [hx, hy, z],
      [-hx, hy, z],
      [-hx, -hy, z],
      [hx, -hy, z],
    ];
  };
  const [low, high] = [square(bottom), square(top)];
  const quads = [0, 1, 2, 3].map((k) => [low[k], low[(k + 1) % 4], high[(k + 1) % 4], high[k]]);
  return [...quads, high, [...low].reverse()].flatMap(([a, b, c, d]) => [
    [a, b, c] as const,
    [a, c, d] as const,
  ]);
}
