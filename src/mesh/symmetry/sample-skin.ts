import { add, scale, squareTo, type Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';

/** Points spread evenly over a skin by area: x, y, z each, mm, and the unit normals of their triangles. */
export interface SkinSamples {
  points: Float64Array;
  normals: Float64Array;
}

/** Steps of the most even sequence of points in a square: 1/g and 1/g², where g³ = g + 1 (Roberts, *R2 sequence*, 2018). */
const EVEN = [0.7548776662466927, 0.5698402909980532] as const;

/**
 * So many points of a skin, each standing for an equal share of its area, in the order of the triangles: every k-th of
 * them is spread as evenly. The same mesh always gives the same ones.
 * @param areaMm2 the skin's area.
 */
export function sampleSkin(
  { positions: p, triangles: t }: Mesh,
  areaMm2: number,
  count: number,
): SkinSamples {
  const points = new Float64Array(count * 3);
  const normals = new Float64Array(count * 3);
  const share = areaMm2 / count;
  let taken = 0;
  let passed = 0;
  for (let i = 0; i < t.length && taken < count; i += 3) {
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    passed += twice / 2;
    // Each point stands in the middle of its share.
    for (; taken < count && passed > (taken + 0.5) * share; taken++) {
      let s = (EVEN[0] * (taken + 1)) % 1;
      let r = (EVEN[1] * (taken + 1)) % 1;
      if (s + r > 1) [s, r] = [1 - s, 1 - r];
      points.set([p[a] + s * ux + r * vx, p[a + 1] + s * uy + r * vy, p[a + 2] + s * uz + r * vz], taken * 3);
      normals.set([nx / twice, ny / twice, nz / twice], taken * 3);
    }
  }
  // Rounding of the sum may leave the last one out.
  return { points: points.subarray(0, taken * 3), normals: normals.subarray(0, taken * 3) };
}

/** About so many of the points, as evenly spread. */
export function fewerSamples({ points, normals }: SkinSamples, count: number): SkinSamples {
  const all = points.length / 3;
  if (all <= count) return { points, normals };
  const pick = (src: Float64Array) =>
    Float64Array.from(
      { length: count * 3 },
      (_, i) => src[Math.floor((((i / 3) | 0) * all) / count) * 3 + (i % 3)],
    );
  return { points: pick(points), normals: pick(normals) };
}

/**
 * A skin that stands for the sampled one where that need not be had exactly: a triangle of the share's area on each
 * sample. Far fewer places to look for the nearest one in.
 */
export function stoodFor({ points, normals }: SkinSamples, areaMm2: number): Mesh {
  // Corners of an equilateral triangle lie so far from its middle.
  const reach = Math.sqrt((4 * areaMm2) / ((points.length / 3) * 3 * Math.sqrt(3)));
  const positions = new Float32Array(points.length * 3);
  for (let i = 0; i < points.length; i += 3) {
    const [u, v] = squareTo([normals[i], normals[i + 1], normals[i + 2]]);
    const middle: Vec3 = [points[i], points[i + 1], points[i + 2]];
    CORNERS.forEach(([x, y], k) => {
      positions.set(add(middle, add(scale(u, x * reach), scale(v, y * reach))), (i + k) * 3);
    });
  }
  return { positions, triangles: Uint32Array.from({ length: points.length }, (_, i) => i) };
}

/** Of a triangle about zero, counter-clockwise. */
const CORNERS = [0, 1, 2].map(
  (k) => [Math.cos((k * 2 * Math.PI) / 3), Math.sin((k * 2 * Math.PI) / 3)] as const,
);
