import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { add, dot, length, normalize, scale, sub, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { narrowest, planeAt } from '../../src/seam/limb/narrowest.ts';
import { limbSection } from '../../src/seam/limb/section.ts';
import { dumbBell, revolved } from '../support/revolved.ts';

/** A turn that takes z to a direction, and a move. */
function placed(mesh: Mesh, axis: Vec3, by: Vec3): Mesh {
  const w = normalize(axis);
  const u = normalize(Math.abs(w[0]) < 0.9 ? [0, w[2], -w[1]] : [-w[2], 0, w[0]]);
  const v: Vec3 = [w[1] * u[2] - w[2] * u[1], w[2] * u[0] - w[0] * u[2], w[0] * u[1] - w[1] * u[0]];
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = mesh.positions.subarray(i, i + 3);
    for (let k = 0; k < 3; k++) positions[i + k] = x * u[k] + y * v[k] + z * w[k] + by[k];
  }
  // What is known of triangles goes by their array.
  return { positions, triangles: mesh.triangles.slice() };
}

/** Degrees between a direction and an axis, whichever way they point. */
const leanDeg = (n: Vec3, axis: Vec3) =>
  (Math.acos(Math.min(1, Math.abs(dot(n, normalize(axis))))) * 180) / Math.PI;

/** x²/a² + y²/a² − z²/c² = 1: its waist, of radius a, is at z = 0 (elementary). */
const hyperboloid = (a: number, c: number) => (z: number) => a * Math.sqrt(1 + (z * z) / (c * c));
const FIGURES: [name: string, mesh: Mesh, waist: number, clickedUpTo: number][] = [
  ['a hyperboloid', revolved(hyperboloid(5, 8), 16, 161, 96), 5, 7],
  ['a dumb-bell', revolved(dumbBell, 18.9, 251, 96), 3, 5],
];

describe('the narrowest section of a limb', () => {
  for (const [name, mesh, waist, clickedUpTo] of FIGURES) {
    it(`of ${name}, wherever it lies: 50 clicks from seed 1`, () => {
      for (let seed = 1; seed <= 50; seed++) {
        const random = makeRandom(9_000 + seed);
        const axis: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
        const by: Vec3 = [20 * random(), 20 * random(), 20 * random()];
        const lain = placed(mesh, axis, by);
        const near: number[] = [];
        for (let v = 0; v < mesh.positions.length; v += 3)
          if (
            Math.abs(mesh.positions[v + 2]) < clickedUpTo &&
            Math.hypot(mesh.positions[v], mesh.positions[v + 1]) > 1
          )
            near.push(v);
        const v = near[Math.floor(random() * near.length)];
        const click: Vec3 = [lain.positions[v], lain.positions[v + 1], lain.positions[v + 2]];
        const part = partOf(lain);
        // One looks at it from about its own side.
        const onAxis = add(by, scale(normalize(axis), mesh.positions[v + 2]));
        const glance = scale(normalize([random() - 0.5, random() - 0.5, random() - 0.5]), 0.4);
        const from = planeAt(part, click, add(normalize(sub(onAxis, click)), glance));
        const found = from && narrowest(part, from.plane, from.inside);
        const title = `seed ${seed}`;
        expect(from, `${title}: a plane to begin with`).not.toBeNull();
        expect(found, title).not.toBeNull();
        if (!found) continue;
        const { before, after } = found;
        expect(leanDeg(after.plane.normal, axis), `${title}: tilt`).toBeLessThan(0.5);
        expect(length(sub(after.centroid, by)), `${title}: place`).toBeLessThan(0.05);
        expect(after.areaMm2, title).toBeLessThanOrEqual(before.areaMm2);
        // A polygon of 96 corners has 0.9993 of its circle.
        expect(after.areaMm2 / (Math.PI * waist ** 2), `${title}: area`).toBeGreaterThan(0.998);
        expect(after.areaMm2 / (Math.PI * waist ** 2), `${title}: area`).toBeLessThan(1.001);
      }
    });
  }

  it('is none where the plane meets nothing', () => {
    const part = partOf(FIGURES[0][1]);
    expect(narrowest(part, { normal: [0, 0, 1], offset: 99 }, [0, 0, 99])).toBeNull();
  });
});

describe('the section of a limb', () => {
  it('is that of the region that the point is in, of several', () => {
    const two = revolved(() => 4, 10, 4, 48);
    const far = placed(two, [0, 0, 1], [30, 0, 0]);
    const count = two.positions.length / 3;
    const mesh = {
      positions: Float32Array.from([...two.positions, ...far.positions]),
      triangles: Uint32Array.from([...two.triangles, ...far.triangles.map((v) => v + count)]),
    };
    const section = limbSection(partOf(mesh), { normal: [0, 0, 1], offset: 1.3 }, [28, 1, 0]);
    expect(section?.limbs).toBe(2);
    expect(section?.centroid[0]).toBeCloseTo(30, 4);
  });
});
