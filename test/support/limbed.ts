import { makeRandom } from '../../src/demo/prng.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { icosphere, lumpySphere } from './figures.ts';

/** A body of about 12 mm about zero with so many limbs, 30 mm long and rounded at their ends, that all lean down; a value of its seed. */
export function limbed(seed: number, limbs: number, levels = 4): Mesh {
  const random = makeRandom(seed);
  const along = Array.from({ length: limbs }, (_, k) => {
    const turn = (2 * Math.PI * (k + 0.3 * random())) / limbs;
    const lean = 0.55 + 0.25 * random();
    return [Math.sin(lean) * Math.cos(turn), Math.sin(lean) * Math.sin(turn), -Math.cos(lean)];
  });
  const body = lumpySphere(seed, 1, levels, 0.2).positions;
  const { positions: p, triangles } = icosphere(levels);
  const positions = new Float32Array(p.length);
  for (let i = 0; i < p.length; i += 3) {
    const [x, y, z] = p.subarray(i, i + 3);
    const lump = Math.hypot(body[i], body[i + 1], body[i + 2]);
    const limb = along.reduce((r, [u, v, w]) => r + 24 * Math.exp(-22 * (1 - x * u - y * v - z * w)), 0);
    const r = 12 * lump + limb;
    positions.set([x * r, y * r, z * r], i);
  }
  return { positions, triangles };
}
