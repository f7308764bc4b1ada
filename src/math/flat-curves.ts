import type { Vec2 } from './vec3.ts';

/** Curves as points along them, no chord farther than `chord` from its curve. Each begins behind its first point. */

/** More than any curve that is drawn needs; one that would need more is coarser. */
const MOST_STEPS = 2000;

const steps = (count: number): number => Math.min(MOST_STEPS, Math.max(1, Math.ceil(count)));

/**
 * A cubic Bézier curve at even steps. A chord over a step h is within h²/8 · max |B″| of it (linear interpolation), and
 * |B″| is at most 6 times the greater second difference of its control points.
 */
export function flatCubic(p: readonly [Vec2, Vec2, Vec2, Vec2], chord: number): Vec2[] {
  const bend = (i: 0 | 1) =>
    Math.hypot(p[i][0] - 2 * p[i + 1][0] + p[i + 2][0], p[i][1] - 2 * p[i + 1][1] + p[i + 2][1]);
  const count = steps(Math.sqrt((0.75 * Math.max(bend(0), bend(1))) / chord));
  return Array.from({ length: count }, (_, i): Vec2 => {
    const t = (i + 1) / count;
    const s = 1 - t;
    const at = (k: 0 | 1) =>
      s * s * s * p[0][k] + 3 * s * s * t * p[1][k] + 3 * s * t * t * p[2][k] + t * t * t * p[3][k];
    return i + 1 === count ? p[3] : [at(0), at(1)];
  });
}

/** An elliptical arc by its ends (SVG 1.1, §8.3.8). */
export interface EndArc {
  from: Vec2;
  to: Vec2;
  radii: Vec2;
  turnDeg: number;
  isLarge: boolean;
  isPositive: boolean;
}

/** Its middle and angles as SVG 1.1, appendix F.6.5, has them; radii too small for its ends are enlarged (F.6.6). */
export function flatArc({ from, to, radii, turnDeg, isLarge, isPositive }: EndArc, chord: number): Vec2[] {
  let [rx, ry] = [Math.abs(radii[0]), Math.abs(radii[1])];
  if (rx === 0 || ry === 0) return [to];
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const [hx, hy] = [(from[0] - to[0]) / 2, (from[1] - to[1]) / 2];
  const [x, y] = [c * hx + s * hy, c * hy - s * hx];
  const grown = Math.sqrt(Math.max(1, (x / rx) ** 2 + (y / ry) ** 2));
  rx *= grown;
  ry *= grown;
  const off = rx * rx * y * y + ry * ry * x * x;
  if (off === 0) return [to];
  const way = (isLarge === isPositive ? -1 : 1) * Math.sqrt(Math.max(0, (rx * rx * ry * ry - off) / off));
  const [mx, my] = [(way * rx * y) / ry, (-way * ry * x) / rx];
  const [cx, cy] = [c * mx - s * my + (from[0] + to[0]) / 2, s * mx + c * my + (from[1] + to[1]) / 2];
  const start = Math.atan2((y - my) / ry, (x - mx) / rx);
  let sweep = Math.atan2((-y - my) / ry, (-x - mx) / rx) - start;
  if (isPositive && sweep < 0) sweep += 2 * Math.PI;
  if (!isPositive && sweep > 0) sweep -= 2 * Math.PI;
  const step = 2 * Math.acos(1 - Math.min(1, chord / Math.max(rx, ry)));
  const count = steps(Math.abs(sweep) / step);
  return Array.from({ length: count }, (_, i): Vec2 => {
    if (i + 1 === count) return to;
    const angle = start + (sweep * (i + 1)) / count;
    const [ex, ey] = [rx * Math.cos(angle), ry * Math.sin(angle)];
    return [cx + c * ex - s * ey, cy + s * ex + c * ey];
  });
}
