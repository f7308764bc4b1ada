import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { PegwrightError } from '../../../src/errors.ts';
import { type Kernel, loadKernel } from '../../../src/kernel/load.ts';
import { plane } from '../../../src/math/plane.ts';
import { loopArea } from '../../../src/math/polygon.ts';
import { dot, normalize, scale, sub, type Vec3 } from '../../../src/math/vec3.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { meshOf, type Part, partOf } from '../../../src/mesh/part/part.ts';
import { type Cut, cutPart } from '../../../src/seam/cut.ts';
import { insideOut, lumpySphere, overlapping } from '../../support/figures.ts';
import { limbed } from '../../support/limbed.ts';
import { countShells, faultyEdges, traceTriangles } from '../../support/outline-judge.ts';
import { isSound, SEAM, volumeOf } from '../../support/seam-fixture.ts';
import { box, fanned, legged, moved, plainVolume, together, torus } from '../../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const NOWHERE: Vec3 = [0, 0, 0];

const cutThrough = (mesh: Mesh, normal: Vec3, offset: number, ...through: Vec3[]): Cut =>
  cutPart(kernel, partOf(mesh), plane(normal, offset), SEAM, NOWHERE, { through, originMm: NOWHERE });

function refusalOf(work: () => unknown): PegwrightError {
  try {
    work();
  } catch (thrown) {
    if (thrown instanceof PegwrightError) return thrown;
    throw thrown;
  }
  throw new Error('nothing was refused');
}

/** Heights (z) a part reaches from and to, mm. */
function heights(part: Part): [number, number] {
  const { positions, triangles } = meshOf(part);
  const z = Array.from(triangles, (v) => positions[v * 3 + 2]);
  return [z.reduce((a, b) => Math.min(a, b)), z.reduce((a, b) => Math.max(a, b))];
}

/** Both parts are closed and add up to the figure; each triangle that the cut does not divide is in one of them, to the bit. Answers how many it divides. */
function expectWhole(mesh: Mesh, { front, back }: Cut): number {
  const [a, b] = [meshOf(front), meshOf(back)];
  expect([faultyEdges(a), faultyEdges(b)]).toEqual([0, 0]);
  const volume = plainVolume(mesh);
  expect(Math.abs(plainVolume(a) + plainVolume(b) - volume)).toBeLessThan(1e-6 * volume);
  const [inA, inB] = [traceTriangles(mesh, a).known, traceTriangles(mesh, b).known];
  let divided = 0;
  for (let i = 0; i < mesh.triangles.length / 3; i++) {
    const times = (inA.get(i) ?? 0) + (inB.get(i) ?? 0);
    if (times === 0) divided++;
    else expect(times).toBe(1);
  }
  return divided;
}

describe('a ring cut across', () => {
  const ring = torus(20, 5, 48, 24);
  const [one, other]: Vec3[] = [
    [0, 20, 0],
    [0, -20, 0],
  ];

  it('is not divided by one of its two outlines: the refusal has a place within the other', () => {
    for (const [through, left] of [
      [one, other],
      [other, one],
    ]) {
      const { code, facts } = refusalOf(() => cutThrough(ring, [1, 0, 0], 0.3, through));
      expect([code, facts]).toEqual([
        'seam-frees-nothing',
        { seamId: SEAM, chosen: 1, at: expect.anything() },
      ]);
      const { at } = facts as { at: Vec3 };
      expect(at[0]).toBeCloseTo(0.3, 9);
      expect(Math.hypot(at[1] - left[1], at[2])).toBeLessThan(2.5);
    }
  });

  it('is divided by both as it is by the plane', () => {
    const both = cutThrough(ring, [1, 0, 0], 0.3, one, other);
    const plain = cutPart(kernel, partOf(ring), plane([1, 0, 0], 0.3), SEAM, NOWHERE);
    expect([meshOf(both.front), meshOf(both.back)]).toEqual([meshOf(plain.front), meshOf(plain.back)]);
    expect(both.facets[0].uncut).toEqual([]);
  });

  it('has the place of its other outline in the file’s coordinates', () => {
    const bound = { through: [[107, 20, 0] as const], originMm: [107, 0, 0] as const };
    const { facts } = refusalOf(() =>
      cutPart(kernel, partOf(ring), plane([1, 0, 0], 0.3), SEAM, NOWHERE, bound),
    );
    expect((facts as { at: Vec3 }).at[0]).toBeCloseTo(107.3, 9);
  });
});

describe('a body with three limbs', () => {
  const mesh = limbed(3, 3);
  const all = () => cutPart(kernel, partOf(mesh), plane([0, 0, 1], -20), SEAM, NOWHERE);

  it('loses the limb that is chosen, and keeps the two others whole', () => {
    const { back: plain } = all();
    const ends = (cut: Cut) => [heights(cut.front)[0] < -21, heights(cut.back)[1] <= -20 + 1e-5];
    const loops = cutThrough(mesh, [0, 0, 1], -20, [0, 0, -20]).facets[0].uncut;
    expect(loops.length).toBe(2);
    let sum = 0;
    for (const turn of [0, 2.1, 4.2]) {
      const cut = cutThrough(mesh, [0, 0, 1], -20, [20 * Math.cos(turn), 20 * Math.sin(turn), -20]);
      expect(ends(cut)).toEqual([true, true]);
      expect([countShells(meshOf(cut.front)), countShells(meshOf(cut.back))]).toEqual([1, 1]);
      expect(expectWhole(mesh, cut)).toBeGreaterThan(10);
      sum += volumeOf(cut.back);
    }
    expect(sum).toBeCloseTo(volumeOf(plain), 4);
  });

  it('loses two where points mean two, and either point may be off the outline or off the plane', () => {
    const cut = cutThrough(mesh, [0, 0, 1], -20, [90, 5, 300], [-12, 22, 7]);
    expect([countShells(meshOf(cut.front)), countShells(meshOf(cut.back))]).toEqual([1, 2]);
    expectWhole(mesh, cut);
  });
});

describe('outlines that lie in one another', () => {
  const hollow = (x: number): Mesh =>
    together(
      moved(lumpySphere(5, 10, 3, 0.1), [x, 0, 0]),
      moved(insideOut(lumpySphere(6, 7, 2, 0.1)), [x, 0, 0]),
      moved(lumpySphere(7, 3, 2, 0.1), [x, 0, 0]),
    );
  const pair = together(hollow(-15), hollow(15));

  it('are cut together, wherever among them the point lies', () => {
    const cuts = [0, 5, 8.5].map((x) => cutThrough(pair, [0, 0, 1], 0.1, [-15 + x, 0, 0]));
    for (const cut of cuts) {
      expectWhole(pair, cut);
      expect(cut.facets[0].uncut.length).toBe(3);
      expect(volumeOf(cut.front)).toBe(volumeOf(cuts[0].front));
    }
  });

  it('stay together where they are not chosen: a hollow and what is in it go with what is around them', () => {
    // The right-hand ball is held up by its size; its hollow and core lie mostly in front, and then mostly behind.
    for (const lift of [-2, 2]) {
      const figure = together(
        moved(lumpySphere(1, 6, 2), [-20, 0, 0]),
        moved(lumpySphere(5, 12, 3, 0.1), [15, 0, -lift * 1.5]),
        moved(insideOut(lumpySphere(6, 5, 2, 0.1)), [15, 0, lift]),
        moved(lumpySphere(7, 2, 2, 0.1), [15, 0, lift]),
      );
      const cut = cutThrough(figure, [0, 0, 1], 0.1, [-20, 0, 0]);
      expectWhole(figure, cut);
      const [ball, rest] = lift > 0 ? [cut.back, cut.front] : [cut.front, cut.back];
      expect([countShells(meshOf(ball)), countShells(meshOf(rest))]).toEqual([4, 1]);
    }
  });

  it('keep a bubble with the limb that it is in, on whichever side of the plane it lies', () => {
    // One long post is cut; the other, which is not, hangs together with the first above.
    const bridge = legged();
    for (const z of [-15, -6]) {
      const figure = together(bridge, moved(insideOut(lumpySphere(3, 2, 2)), [23, 0, z]));
      const cut = cutThrough(figure, [0, 0, 1], -10, [-25, 0, -10]);
      expectWhole(figure, cut);
      expect([countShells(meshOf(cut.front)), countShells(meshOf(cut.back))]).toEqual([2, 1]);
    }
  });
});

describe('a shell that no chosen outline goes through', () => {
  const post = fanned(box([-4, -4, -10], [4, 4, 10]));

  it('goes whole to where most of its volume lies, of however few triangles it is', () => {
    for (const [low, high, inFront] of [
      [-9, 11, 2],
      [-11, 9, 1],
      [1, 3, 2],
      [-3, -1, 1],
    ]) {
      const figure = together(post, fanned(box([20, -4, low], [28, 4, high])));
      const cut = cutThrough(figure, [0, 0, 1], 0, [0, 0, 0]);
      expectWhole(figure, cut);
      expect(countShells(meshOf(cut.front)), `${low} to ${high}`).toBe(inFront);
    }
  });
});

describe('outlines that touch or cross', () => {
  it('in a vertex are one, and are cut together', () => {
    const figure = crotch();
    for (const x of [-5, 5]) {
      const cut = cutThrough(figure, [0, 0, 1], 0, [x, 0, 0]);
      expect(cut.facets[0].uncut).toEqual([]);
      expect([isSound(cut.front), isSound(cut.back)]).toEqual([true, true]);
    }
  });

  it('of overlapping shells are refused where they are chosen, and left in peace where they are not', () => {
    const figure = together(overlapping(3), moved(lumpySphere(9, 5, 2), [40, 0, 0]));
    const { code, facts } = refusalOf(() => cutThrough(figure, [0, 0, 1], 0.2, [4, 0, 0]));
    expect([code, facts]).toEqual(['seam-outlines-cross', { seamId: SEAM }]);
    const cut = cutThrough(figure, [0, 0, 1], 0.2, [40, 0, 0]);
    expect(cut.way).toBe('local');
    expect(cut.facets[0].uncut.length).toBe(2);
    expectWhole(figure, cut);
  });

  it('of overlapping shells, all chosen, are the kernel’s as before', () => {
    const figure = overlapping(3);
    const cut = cutThrough(figure, [0, 0, 1], 0.2, [4, 0, 0]);
    expect(cut.way).toBe('kernel');
    expect([isSound(cut.front), isSound(cut.back)]).toEqual([true, true]);
  });
});

/** A roof on two four-sided spikes that stand beside each other, corner to corner at z = 0. */
function crotch(): Mesh {
  const vertices: [number, number, number][] = [
    [-8, 0, 0],
    [-4, -4, 0],
    [0, 0, 0],
    [-4, 4, 0],
    [4, -4, 0],
    [8, 0, 0],
    [4, 4, 0],
    [-4, 0, -9],
    [4, 0, -9],
    [0, 0, 9],
    [0, -4, 4],
    [0, 4, 4],
  ];
  const left = [1, 0, 7, 2, 1, 7, 3, 2, 7, 0, 3, 7];
  const right = [4, 2, 8, 5, 4, 8, 6, 5, 8, 2, 6, 8];
  const saddle = [1, 2, 10, 2, 4, 10, 6, 2, 11, 2, 3, 11];
  const roof = [0, 1, 9, 1, 10, 9, 10, 4, 9, 4, 5, 9, 5, 6, 9, 6, 11, 9, 11, 3, 9, 3, 0, 9];
  return {
    positions: Float32Array.from(vertices.flat()),
    triangles: Uint32Array.of(...left, ...right, ...saddle, ...roof),
  };
}

describe('a plane along flat sides', () => {
  it('parts one leg from a bar whose underside lies in it, and leaves the underside as it is', () => {
    const bar = legged();
    for (const [x, volume] of [
      [-25, 10 * 12 * 20],
      [23, 14 * 12 * 20],
    ]) {
      const cut = cutThrough(bar, [0, 0, 1], 0, [x, 0, 0]);
      expect([isSound(cut.front), isSound(cut.back)]).toEqual([true, true]);
      expect(volumeOf(cut.back)).toBeCloseTo(volume, 6);
      expect(expectWhole(bar, cut)).toBe(0);
      expect(loopArea(cut.facets[0].uncut[0])).toBeCloseTo(x < 0 ? 14 * 12 : 10 * 12, 6);
    }
  });

  it('does the same from below', () => {
    const cut = cutThrough(legged(), [0, 0, -1], 0, [-25, 0, 0]);
    expect(volumeOf(cut.front)).toBeCloseTo(10 * 12 * 20, 6);
    expect(expectWhole(legged(), cut)).toBe(0);
  });

  it('or through vertices leaves what is not chosen to the bit, seeds 501–560', () => {
    const came = { cut: 0, refused: 0 };
    for (let seed = 501; seed <= 560; seed++) {
      const random = makeRandom(seed);
      const mesh = limbed(seed % 7, 3 + (seed % 3), 3);
      const [a, b] = [vertexBetween(mesh, random, -27, -15), vertexBetween(mesh, random, -27, -15)];
      const along = normalize(sub(b, a));
      const { normal } = plane(sub([0, 0, 1], scale(along, along[2])), 0);
      try {
        const cut = cutThrough(mesh, normal, dot(normal, a), a);
        expect(cut.way).toBe('local');
        expectWhole(mesh, cut);
        if (cut.facets[0].uncut.length > 0) came.cut++;
      } catch (thrown) {
        expect((thrown as PegwrightError).code, `seed ${seed}: ${thrown}`).toBe('seam-frees-nothing');
        came.refused++;
      }
    }
    expect(came.cut).toBeGreaterThan(30);
    expect(came.refused).toBeLessThan(10);
  });
});

/** A vertex at random whose height (z) lies between two. */
function vertexBetween({ positions: p }: Mesh, random: () => number, low: number, high: number): Vec3 {
  for (;;) {
    const v = Math.floor((random() * p.length) / 3) * 3;
    if (p[v + 2] > low && p[v + 2] < high) return [p[v], p[v + 1], p[v + 2]];
  }
}
