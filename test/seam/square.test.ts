import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { add, dot, normalize, scale, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { squareTo } from '../../src/seam/limb/square.ts';
import { icosphere } from '../support/figures.ts';
import { axesAlong, placed } from '../support/placed.ts';
import { dumbBell, revolved } from '../support/revolved.ts';
import { torus } from '../support/simple-solids.ts';

const DEG = Math.PI / 180;
const leanDeg = (n: Vec3, axis: Vec3) => Math.acos(Math.min(1, Math.abs(dot(n, axis)))) / DEG;

/** A direction that leans from an axis by so many degrees, some way or other. */
function leaning(axis: Vec3, lean: number, turn: number): Vec3 {
  const [u, v, w] = axesAlong(axis);
  const across = add(scale(u, Math.cos(turn)), scale(v, Math.sin(turn)));
  return normalize(add(scale(w, Math.cos(lean * DEG)), scale(across, Math.sin(lean * DEG))));
}

const through = (normal: Vec3, at: Vec3) => ({ normal, offset: dot(normal, at) });

/** Solids of revolution about z, by their radius (mm), half their height, and how far from the middle they are cut. */
const ROUND: [name: string, radiusAt: (z: number) => number, half: number, upTo: number][] = [
  ['a cylinder', () => 5, 15, 6],
  ['a cone', (z) => 6 + 0.25 * z, 15, 6],
  ["a hyperboloid's neck, off its waist", (z) => 5 * Math.sqrt(1 + (z * z) / 64), 16, 5],
  ['a short neck that flares to both ends', (z) => 3 + 0.06 * z * z, 8, 2.5],
];

describe('a plane square to a limb', () => {
  for (const [name, radiusAt, half, upTo] of ROUND) {
    it(`goes along the axis of ${name}: 100 leans up to 35° from seed 1`, () => {
      const mesh = revolved(radiusAt, half, 161, 64);
      for (let seed = 1; seed <= 100; seed++) {
        const random = makeRandom(17_000 + seed);
        const axis = normalize([random() - 0.5, random() - 0.5, random() - 0.5]);
        const by: Vec3 = [20 * random(), 20 * random(), 20 * random()];
        const on = add(by, scale(axis, (2 * random() - 1) * upTo));
        const from = through(leaning(axis, 35 * random(), 2 * Math.PI * random()), on);
        const found = squareTo(partOf(placed(mesh, axis, by)), from, on);
        expect(found, `seed ${seed}`).not.toBeNull();
        if (!found) continue;
        expect(leanDeg(found.after.plane.normal, axis), `seed ${seed}: lean`).toBeLessThan(0.1);
        // Its place is kept: the plane turns about the middle of the section that it had.
        const { plane } = found.after;
        expect(dot(plane.normal, found.before.centroid) - plane.offset).toBeCloseTo(0, 6);
      }
    });
  }

  it('goes along the circle of a torus where it cuts it: 100 leans up to 35° from seed 1', () => {
    const ring = torus(30, 5, 360, 64);
    for (let seed = 1; seed <= 100; seed++) {
      const random = makeRandom(18_000 + seed);
      const at = 2 * Math.PI * random();
      const on: Vec3 = [30 * Math.cos(at), 30 * Math.sin(at), 0];
      const along: Vec3 = [-Math.sin(at), Math.cos(at), 0];
      const from = through(leaning(along, 35 * random(), 2 * Math.PI * random()), on);
      const found = squareTo(partOf({ ...ring, triangles: ring.triangles.slice() }), from, on);
      const [x, y] = found?.after.centroid ?? [0, 0];
      const tangent = normalize([-y, x, 0]);
      expect(leanDeg(found?.after.plane.normal ?? [0, 0, 1], tangent), `seed ${seed}`).toBeLessThan(0.5);
    }
  });

  it('is right or none on the neck of a dumb-bell as wide as it is long, whose balls a plane that leans much meets', () => {
    const bell = revolved(dumbBell, 18.9, 251, 64);
    let right = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const random = makeRandom(19_000 + seed);
      const on: Vec3 = [0, 0, 2.8 * (random() - 0.5)];
      const lean = 35 * random();
      const from = through(leaning([0, 0, 1], lean, 2 * Math.PI * random()), on);
      const found = squareTo(partOf({ ...bell, triangles: bell.triangles.slice() }), from, on);
      if (found) expect(leanDeg(found.after.plane.normal, [0, 0, 1]), `seed ${seed}`).toBeLessThan(0.1);
      if (lean < 25) expect(found, `seed ${seed}: ${lean}°`).not.toBeNull();
      if (found) right++;
    }
    expect(right).toBeGreaterThan(80);
  });

  const LEANS = { normal: normalize([0.3, 0.1, 1]), offset: 1 };
  const NONE: [name: string, mesh: Mesh, near: Vec3][] = [
    ['a ball, which has no direction', scaled(icosphere(5), 8), [0, 0, 1]],
    ['a disc, too short for one', revolved(() => 20, 1.1, 4, 96), [0, 0, 1]],
  ];
  for (const [name, mesh, near] of NONE)
    it(`is none of ${name}`, () => expect(squareTo(partOf(mesh), LEANS, near)).toBeNull());

  it('is none where the plane meets nothing', () => {
    expect(
      squareTo(partOf(revolved(() => 5, 9, 4, 48)), { normal: [0, 0, 1], offset: 99 }, [0, 0, 99]),
    ).toBeNull();
  });
});

function scaled({ positions, triangles }: Mesh, by: number): Mesh {
  return { positions: positions.map((c) => c * by), triangles };
}
