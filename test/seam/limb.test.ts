import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { add, dot, length, normalize, scale, sub, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { narrowest, narrowestAt } from '../../src/seam/limb/narrowest.ts';
import { limbSection } from '../../src/seam/limb/section.ts';
import { placed } from '../support/placed.ts';
import { dumbBell, revolved } from '../support/revolved.ts';

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
        const found = narrowestAt(part, click, add(normalize(sub(onAxis, click)), glance));
        const title = `seed ${seed}`;
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

describe('the narrowest section', () => {
  it('is none of a cone, which only thins to its end, nor of a blunt one', () => {
    const cone = partOf(revolved((z) => Math.max(0.01, 5 - 0.4 * z), 12.4, 201, 64));
    expect(narrowest(cone, { normal: [0.1, 0, Math.sqrt(0.99)], offset: 1 }, [0, 0, 1])).toBeNull();
    const blunt = partOf(revolved((z) => 0.01 + Math.sqrt(Math.max(0, 12 - z)), 12, 201, 64));
    expect(narrowest(blunt, { normal: [0, 0.1, Math.sqrt(0.99)], offset: 3 }, [0, 0, 3])).toBeNull();
  });

  it('has planes beside it, moved and tilted either way, that are no smaller', () => {
    // A bent limb with a waist: nothing in it is known beforehand.
    const bent = revolved((z) => 4 + 0.02 * (z - 2) ** 2, 16, 161, 96);
    for (let i = 0; i < bent.positions.length; i += 3)
      bent.positions[i] += 0.03 * bent.positions[i + 2] ** 2 + 0.2 * Math.sin(bent.positions[i + 1]);
    const part = partOf(bent);
    const found = narrowest(part, { normal: [0.2, 0.1, Math.sqrt(0.95)], offset: 6 }, [1, 0, 6]);
    if (!found) throw new Error('none found');
    const { plane, centroid, areaMm2 } = found.after;
    for (const along of [-1, 0, 1])
      for (const x of [-1, 0, 1])
        for (const y of [-1, 0, 1]) {
          const normal = normalize(add(plane.normal, [0.1 * x, 0.1 * y, 0]));
          const at = add(centroid, scale(plane.normal, along));
          const beside = limbSection(part, { normal, offset: dot(normal, at) }, at);
          expect(beside?.areaMm2, `${along} ${x} ${y}`).toBeGreaterThan(areaMm2 * 0.9995);
        }
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
