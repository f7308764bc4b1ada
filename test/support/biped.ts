import { makeRandom } from '../../src/demo/prng.ts';
import type { Plane } from '../../src/math/plane.ts';
import { cross, dot, normalize, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { icosphere } from './figures.ts';

export interface BipedOptions {
  /** Of the sphere it is drawn from: 20 × 4^levels triangles. */
  levels?: number;
  /** How far each vertex is moved at random, as a scan's are, mm. */
  noiseMm?: number;
  /** How far one arm is held up and forward of where the other's image is: the tangent of that angle. */
  raised?: number;
  /** Turned and moved at random; else it stands upright, mirrored across x = 0. */
  astray?: boolean;
}

export interface Biped {
  mesh: Mesh;
  /** What it is mirrored across. */
  mirror: Plane;
  /** The middle of its body, and the way from there along one of its arms, which is some 33 mm. */
  at: Vec3;
  arm: Vec3;
}

/** A body with arms, legs, a head, a nose and a belly, some 70 mm high; a value of its seed. */
export function biped(seed: number, options: BipedOptions = {}): Biped {
  const { levels = 4, noiseMm = 0, raised = 0, astray = false } = options;
  const random = makeRandom(seed);
  const limbs = limbsOf(random, raised);
  const waves = Array.from({ length: 5 }, () => [6 * random(), 6 * random(), 6 * random(), 7 * random()]);
  const [u, v, w] = astray ? frameOf(random) : STRAIGHT;
  const at: Vec3 = astray ? [90 * random() - 45, 90 * random() - 45, 90 * random() - 45] : [0, 0, 0];
  const { positions: p, triangles } = icosphere(levels);
  const positions = new Float32Array(p.length);
  const jitter = () => noiseMm * (random() + random() + random() - 1.5) * 2;
  for (let i = 0; i < p.length; i += 3) {
    const [x, y, z] = p.subarray(i, i + 3);
    const lump = waves.reduce((s, [a, b, c, d]) => s + Math.sin(a * Math.abs(x) + b * y + c * z + d), 0);
    const grown = limbs.reduce(
      (r, [out, long, thin]) => r + long * Math.exp(-thin * (1 - dot(out, [x, y, z]))),
      0,
    );
    const r = 11 * (1 + 0.04 * lump) + grown;
    for (let k = 0; k < 3; k++)
      positions[i + k] = at[k] + r * (x * u[k] + y * v[k] + z * w[k]) + (noiseMm > 0 ? jitter() : 0);
  }
  const [[[x, y, z]]] = limbs;
  const arm = [0, 1, 2].map((k) => x * u[k] + y * v[k] + z * w[k]) as unknown as Vec3;
  return { mesh: { positions, triangles }, mirror: { normal: u, offset: dot(u, at) }, at, arm };
}

const STRAIGHT: readonly [Vec3, Vec3, Vec3] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

type Limb = readonly [out: Vec3, long: number, thin: number];

function limbsOf(random: () => number, raised: number): Limb[] {
  const pair = (x: number, y: number, z: number, lift = 0): [Vec3, Vec3] => [
    normalize([x, y, z]),
    normalize([-x, y + lift, z + lift]),
  ];
  const [left, right] = pair(0.9, 0.15 * random(), 0.1 + 0.2 * random(), raised);
  const [leftLeg, rightLeg] = pair(0.32 + 0.1 * random(), 0.1 * random(), -0.9);
  return [
    [left, 22, 26],
    [right, 22, 26],
    [leftLeg, 26, 24],
    [rightLeg, 26, 24],
    [normalize([0, 0.15, 1]), 14, 12],
    [normalize([0, 1, 0.3]), 5, 30],
    [normalize([0, 1, -0.4]), 5, 6],
  ];
}

/** Three unit vectors square to each other, right-handed, turned at random. */
function frameOf(random: () => number): [Vec3, Vec3, Vec3] {
  const any = (): Vec3 => normalize([random() - 0.5, random() - 0.5, random() - 0.5]);
  const u = any();
  const v = normalize(cross(u, any()));
  return [u, v, cross(u, v)];
}
