import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelTrim } from '../../src/kernel/solid.ts';
import { solidAngle } from '../../src/math/solid-angle.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, type Part, type PatchOf, partOf } from '../../src/mesh/part/part.ts';
import { lessNear } from '../../src/seam/nest/less-near.ts';
import { icosphere } from '../support/figures.ts';
import { isSound } from '../support/seam-fixture.ts';
import { moved, together } from '../support/simple-solids.ts';

/** A part less another on narrow strips of either, held against the kernel's difference of the whole parts. */

type Point = [number, number, number];

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const ball = (radius: number, at: Point, levels = 5): Mesh => {
  const { positions, triangles } = icosphere(levels);
  return moved({ positions: positions.map((v) => v * radius), triangles }, at);
};
const turnedOut = ({ positions, triangles }: Mesh): Mesh => ({
  positions,
  triangles: triangles.toReversed(),
});

const OTHER: PatchOf = { kind: 'skin', trimmedBy: 'join' };
const trianglesOf = ({ patches }: Part) => patches.reduce((sum, one) => sum + one.triangles.length / 3, 0);
const volumeOf = (part: Part) => measureMesh(meshOf(part)).volumeMm3;

/** What comes out on the strips and on the whole parts, and how many triangles the kernel was given. */
function bothWays(one: Mesh, other: Mesh) {
  const part = partOf(one);
  const by = { ...partOf(other), patches: [{ of: OTHER, triangles: other.triangles }] };
  const whole = kernelTrim(kernel, part, by, 'join', null);
  let given = 0;
  const near = lessNear(part, by, (strip, otherStrip) => {
    given = trianglesOf(strip) + trianglesOf(otherStrip);
    return kernelTrim(kernel, strip, otherStrip, 'join', null);
  });
  return { whole, near, given, all: trianglesOf(part) + trianglesOf(by) };
}

/** Triangles as their nine coordinates, each from its least corner, in order. */
function textsOf(part: Part): string[] {
  const { positions: p, triangles } = meshOf(part);
  const texts: string[] = [];
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [0, 1, 2].map((k) => p.slice(triangles[i + k] * 3, triangles[i + k] * 3 + 3).join());
    const first = corners.indexOf(corners.slice().sort()[0]);
    texts.push([0, 1, 2].map((k) => corners[(first + k) % 3]).join(' '));
  }
  return texts.sort();
}

describe('a part less another where their skins come near', () => {
  it('is the kernel’s difference of the whole, from a fraction of the triangles, whichever is which', () => {
    const [large, small] = [ball(15, [0, 0, 0]), ball(12, [0, 0, 20])];
    for (const [one, other] of [
      [large, small],
      [small, large],
    ]) {
      const { whole, near, given, all } = bothWays(one, other);
      expect(near).not.toBeNull();
      expect(given).toBeLessThan(all / 4);
      expect(isSound(near!)).toBe(true);
      expect(trianglesOf(near!)).toBe(trianglesOf(whole));
      expect(Math.abs(volumeOf(near!) - volumeOf(whole))).toBeLessThan(1e-6 * volumeOf(whole));
      const known = new Set(textsOf(whole));
      const others = textsOf(near!).filter((text) => !known.has(text));
      // Only those beside the crossing may be divided otherwise.
      expect(others.length).toBeLessThan(textsOf(whole).length / 50);
    }
  });

  it('is so for spheres by seed, apart, crossing or one in the other', () => {
    const random = makeRandom(71_000);
    let spared = 0;
    for (let seed = 0; seed < 24; seed++) {
      const [r, s] = [6 + 6 * random(), 4 + 4 * random()];
      const off = (r + s) * (0.1 + random());
      const [a, b] = [2 * Math.PI * random(), Math.PI * random()];
      const at: Point = [off * Math.sin(b) * Math.cos(a), off * Math.sin(b) * Math.sin(a), off * Math.cos(b)];
      const { whole, near, given, all } = bothWays(ball(r, [0, 0, 0], 4), ball(s, at, 4));
      if (!near) continue;
      if (given < all / 2) spared++;
      expect(isSound(near), `seed ${seed}`).toBe(true);
      expect(Math.abs(volumeOf(near) - volumeOf(whole)), `seed ${seed}: volume`).toBeLessThan(
        1e-6 * (1 + volumeOf(whole)),
      );
    }
    expect(spared).toBeGreaterThan(12);
  });

  it('is never told from strips where a body of the other, or a hollow, lies beyond them', () => {
    const large = ball(15, [0, 0, 0]);
    // Within the cone that stands for the far piece, and between the two.
    for (const [x, z] of [
      [0, -11],
      [0, 0],
      [9, 0],
      [10, -4],
    ]) {
      const bodies = together(ball(12, [0, 0, 20]), ball(1.5, [x, 0, z], 3));
      const { whole, near } = bothWays(large, bodies);
      // Nothing at all is as good as the same: the whole parts are taken then.
      if (near)
        expect(Math.abs(volumeOf(near) - volumeOf(whole)), `body at ${x}, ${z}`).toBeLessThan(
          1e-6 * volumeOf(whole),
        );
      const hollow = together(large, turnedOut(ball(2, [x, 0, z], 3)));
      const hollowed = bothWays(hollow, ball(12, [0, 0, 20]));
      if (hollowed.near) {
        const off = Math.abs(volumeOf(hollowed.near) - volumeOf(hollowed.whole));
        expect(off, `hollow at ${x}, ${z}`).toBeLessThan(1e-6 * volumeOf(hollowed.whole));
      }
    }
  });
});

describe('the solid angle of a sphere’s triangles', () => {
  it('is 4π within, none without, and a fraction’s own from the middle', () => {
    const { positions, triangles } = ball(5, [1, 2, 3], 4);
    expect(solidAngle(positions, triangles, 1, 2, 3)).toBeCloseTo(4 * Math.PI, 9);
    expect(solidAngle(positions, triangles, 4, 0, 2)).toBeCloseTo(4 * Math.PI, 9);
    expect(solidAngle(positions, triangles, 9, 2, 3)).toBeCloseTo(0, 9);
    // One of the 20 · 4⁴ triangles by the formula of its spherical excess, from the dihedral angles (L’Huilier).
    const corner = (v: number) => [0, 1, 2].map((k) => (positions[v * 3 + k] - [1, 2, 3][k]) / 5) as Point;
    const [a, b, c] = [...triangles.subarray(0, 3)].map(corner);
    const arc = (u: Point, v: Point) => Math.acos(u[0] * v[0] + u[1] * v[1] + u[2] * v[2]);
    const [x, y, z] = [arc(b, c), arc(c, a), arc(a, b)];
    const s = (x + y + z) / 2;
    const tans = [s, s - x, s - y, s - z].map((angle) => Math.tan(angle / 2));
    const excess = 4 * Math.atan(Math.sqrt(tans.reduce((product, t) => product * t, 1)));
    expect(solidAngle(positions, triangles.subarray(0, 3), 1, 2, 3)).toBeCloseTo(excess, 6);
  });
});
