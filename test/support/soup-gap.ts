import { onTriangle, type Point } from './independent-gap.ts';
import type { Soup } from './stl-bytes.ts';

/** The gap between two surfaces of written files, by samples and exact distances to triangles. */

type Corners = readonly [Point, Point, Point];

const cornersOf = (soup: Soup): Corners[] =>
  Array.from({ length: soup.length / 9 }, (_, t) => {
    const corner = (k: number): Point => [
      soup[t * 9 + k * 3],
      soup[t * 9 + k * 3 + 1],
      soup[t * 9 + k * 3 + 2],
    ];
    return [corner(0), corner(1), corner(2)] as const;
  });

/** Triangles, each with its least and greatest coordinates. */
export const boxed = (soup: Soup) =>
  cornersOf(soup).map((corners) => {
    const [[ax, ay, az], [bx, by, bz], [cx, cy, cz]] = corners;
    const low = [Math.min(ax, bx, cx), Math.min(ay, by, cy), Math.min(az, bz, cz)];
    const high = [Math.max(ax, bx, cx), Math.max(ay, by, cy), Math.max(az, bz, cz)];
    return { corners, low, high };
  });

const apart = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** How far distances are looked for, mm: no gap comes near it. */
const FAR = 2;

/** The point of a surface nearest to another, itself where none is nearer than `FAR`; triangles whose box is farther than the best so far are passed over. */
export function nearestOn(surface: ReturnType<typeof boxed>, p: Point): { at: Point; distance: number } {
  let at = p;
  let best = FAR;
  for (const { corners, low, high } of surface) {
    let square = 0;
    for (let k = 0; k < 3; k++) {
      const out = p[k] < low[k] ? low[k] - p[k] : p[k] > high[k] ? p[k] - high[k] : 0;
      square += out * out;
    }
    if (square >= best * best) continue;
    const on = onTriangle(p, ...corners);
    if (apart(p, on) < best) [at, best] = [on, apart(p, on)];
  }
  return { at, distance: best };
}

/** Distance from a point to a surface, `FAR` where it is not nearer. */
export const distanceTo = (surface: ReturnType<typeof boxed>, p: Point): number =>
  nearestOn(surface, p).distance;

/** Points on every triangle no more than `apartMm` apart along its sides, its corners and edges among them, each with the triangle's unit normal. */
export function samplesOn(soup: Soup, apartMm = 1): { point: Point; normal: Point }[] {
  return cornersOf(soup).flatMap(([a, b, c]) => {
    const u = b.map((v, k) => v - a[k]);
    const v = c.map((w, k) => w - a[k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const l = Math.hypot(...n);
    const normal = n.map((w) => w / l) as unknown as Point;
    const steps = Math.max(2, Math.ceil(Math.max(apart(a, b), apart(b, c), apart(c, a)) / apartMm));
    const points: { point: Point; normal: Point }[] = [];
    for (let i = 0; i <= steps; i++) {
      for (let j = 0; i + j <= steps; j++) {
        const at = a.map((w, k) => w + (u[k] * i + v[k] * j) / steps);
        points.push({ point: at as unknown as Point, normal });
      }
    }
    return points;
  });
}
