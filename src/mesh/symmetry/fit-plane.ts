import type { Plane } from '../../math/plane.ts';
import { type Symmetric3, solveSymmetric } from '../../math/symmetric3.ts';
import { add, dot, length, normalize, scale, squareTo, sub, type Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';
import type { SkinSearch } from '../near/nearest-on-skin.ts';
import type { SkinSamples } from './sample-skin.ts';

export interface FitOptions {
  /** What is farther than this from its image hardly pulls (mm): in the first step, and in the last. */
  pullMm: readonly [number, number];
  steps: number;
  /** A step that moves nothing of the figure, `radiusMm` about its middle, by more than this is the last one, mm. */
  settledMm: number;
  radiusMm: number;
  /** The figure's middle, about which the plane is tilted, mm. */
  middle: Vec3;
}

/** Images are looked for no farther than this many times what still pulls. */
const REACH = 3;

/** Skins that face otherwise than an image (cosine) are another side of something thin. */
const LEAST_FACING = 0.2;

/**
 * The plane tilted and moved so that mirror images of a skin's points lie on the skin: each is held against the plane of
 * the triangle nearest to it, which converges as the square where all of them fit (Chen and Medioni, *Image Vision
 * Comput.* 10(3), 1992), and pulls the less the farther off it is (weights of Geman and McClure), so that what has no
 * counterpart does not matter.
 */
export function fitPlane(
  mesh: Mesh,
  search: SkinSearch,
  samples: SkinSamples,
  from: Plane,
  options: FitOptions,
): Plane {
  const { pullMm, steps, middle, radiusMm, settledMm } = options;
  let plane = from;
  for (let step = 0; step < steps; step++) {
    const done = steps === 1 ? 1 : step / (steps - 1);
    const pull = pullMm[0] * (pullMm[1] / pullMm[0]) ** done;
    const next = stepped(mesh, search, samples, plane, middle, pull);
    if (next === null) return plane;
    const turn = length(sub(next.normal, plane.normal));
    const shift = Math.abs(dot(next.normal, middle) - next.offset - dot(plane.normal, middle) + plane.offset);
    plane = next;
    if (turn * radiusMm + shift < settledMm) break;
  }
  return plane;
}

/** One step of Gauss and Newton; null where too little of the figure has an image. */
function stepped(
  mesh: Mesh,
  search: SkinSearch,
  { points, normals }: SkinSamples,
  plane: Plane,
  middle: Vec3,
  pullMm: number,
): Plane | null {
  const n = plane.normal;
  const [u, v] = squareTo(n);
  const offset = plane.offset - dot(n, middle);
  const sums = new Float64Array(9);
  for (let i = 0; i < points.length; i += 3) {
    const p: Vec3 = [points[i] - middle[0], points[i + 1] - middle[1], points[i + 2] - middle[2]];
    const height = dot(n, p) - offset;
    const image = sub(p, scale(n, 2 * height));
    const q = search.nearest(
      image[0] + middle[0],
      image[1] + middle[1],
      image[2] + middle[2],
      REACH * pullMm,
    );
    if (q === null) continue;
    const m = normalAt(mesh, q.triangle);
    const facing: Vec3 = [normals[i], normals[i + 1], normals[i + 2]];
    if (dot(m, sub(facing, scale(n, 2 * dot(n, facing)))) < LEAST_FACING) continue;
    const off = dot(m, sub(add(image, middle), q.at));
    // How the image moves along m as the plane is tilted towards u and v, and moved.
    const along = dot(m, n);
    const tiltU = -2 * (dot(u, p) * along + height * dot(m, u));
    const tiltV = -2 * (dot(v, p) * along + height * dot(m, v));
    const weight = (1 + (q.distance / pullMm) ** 2) ** -2;
    addRow(sums, weight, [tiltU, tiltV, 2 * along], off);
  }
  const move = solveSymmetric([...sums.subarray(0, 6)] as unknown as Symmetric3, [
    -sums[6],
    -sums[7],
    -sums[8],
  ]);
  if (move === null) return null;
  const normal = normalize(add(n, add(scale(u, move[0]), scale(v, move[1]))));
  return { normal, offset: offset + move[2] + dot(normal, middle) };
}

/** Adds one equation to the normal equations: the matrix as xx, yy, zz, xy, xz, yz, then its right side. */
function addRow(sums: Float64Array, weight: number, [x, y, z]: Vec3, off: number): void {
  sums[0] += weight * x * x;
  sums[1] += weight * y * y;
  sums[2] += weight * z * z;
  sums[3] += weight * x * y;
  sums[4] += weight * x * z;
  sums[5] += weight * y * z;
  sums[6] += weight * x * off;
  sums[7] += weight * y * off;
  sums[8] += weight * z * off;
}

function normalAt({ positions: p, triangles: t }: Mesh, triangle: number): Vec3 {
  const [a, b, c] = [0, 1, 2].map((k) => t[triangle + k] * 3);
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return normalize([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]);
}
