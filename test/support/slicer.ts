/**
 * Measures of a closed surface in double precision, apart from the engine: a soup of triangles, nine coordinates
 * each, counter-clockwise from outside, is taken as it is, nothing welded and nothing moved.
 */

type Point = readonly [number, number, number];

const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const sub = (a: Point, b: Point): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
const cross = (a: Point, b: Point): Point => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];

const cornersOf = (soup: ArrayLike<number>, t: number): [Point, Point, Point] => {
  const at = (k: number): Point => [soup[t * 9 + k], soup[t * 9 + k + 1], soup[t * 9 + k + 2]];
  return [at(0), at(3), at(6)];
};

/**
 * Area and perimeter of the surface's section with n·x = offset, n of length one. Each triangle that the plane
 * passes through gives one segment, walked so that the solid lies to its left seen from the front; the area is half
 * the sum of their cross products (Green's theorem), whatever outlines they make. A corner in the plane counts as
 * lying in front, so that shared corners are judged alike everywhere.
 */
export function sectionOf(
  soup: ArrayLike<number>,
  n: Point,
  offset: number,
): { area: number; perimeter: number } {
  let [area, perimeter] = [0, 0];
  const about: Point = [n[0] * offset, n[1] * offset, n[2] * offset];
  for (let t = 0; t < soup.length / 9; t++) {
    const corners = cornersOf(soup, t);
    const heights = corners.map((p) => dot(n, p) - offset);
    const front = heights.map((h) => h >= 0);
    if (front[0] === front[1] && front[1] === front[2]) continue;
    const crossing = (i: number, j: number): Point => {
      const share = heights[i] / (heights[i] - heights[j]);
      return corners[i].map((v, k) => v + share * (corners[j][k] - v)) as unknown as Point;
    };
    // Walking round the triangle, the plane is crossed once downwards and once upwards.
    const down = [0, 1, 2].find((i) => front[i] && !front[(i + 1) % 3]) as number;
    const up = [0, 1, 2].find((i) => !front[i] && front[(i + 1) % 3]) as number;
    const from = sub(crossing(down, (down + 1) % 3), about);
    const to = sub(crossing(up, (up + 1) % 3), about);
    area += dot(n, cross(from, to)) / 2;
    perimeter += Math.hypot(...sub(to, from));
  }
  return { area, perimeter };
}

/** Volume by the divergence theorem about the first corner, and area. */
export function measuresOf(soup: ArrayLike<number>): { volume: number; area: number } {
  const about: Point = [soup[0], soup[1], soup[2]];
  let [volume, area] = [0, 0];
  for (let t = 0; t < soup.length / 9; t++) {
    const [a, b, c] = cornersOf(soup, t).map((p) => sub(p, about));
    volume += dot(a, cross(b, c)) / 6;
    area += Math.hypot(...cross(sub(b, a), sub(c, a))) / 2;
  }
  return { volume, area };
}
