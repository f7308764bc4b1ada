import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import { makePiece } from '../../src/joint/piece.ts';
import { planeFrame } from '../../src/math/plane.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import { normalize } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { SettledJoint } from '../../src/model/joint.ts';
import { measureGap } from '../../src/section/gap.ts';
import { pegOf } from '../support/seam-fixture.ts';

/** A peg and its socket on an oblique seam, ready to be measured. */
function jointPair(sizes: Partial<SettledJoint>, normal: Vec3 = [0.3, -0.2, 1], foot: Vec3 = [12, -7, 3]) {
  const peg = pegOf(sizes);
  const frame = planeFrame({ normal: normalize(normal), offset: 0 });
  const spinDeg = peg.spinDeg;
  const seat = { seamId: 's', jointId: 'a', facet: 0, pegOn: 'back' as const, frame, foot, spinDeg };
  const [male, female] = jointKind(peg.kind)
    .pieces(peg)
    .map((piece) => makePiece(seat, piece));
  const measure = (a: Mesh = male.surface, b: Mesh = female.surface) => {
    const { side, end } = measureGap(
      [
        {
          peg: a,
          socket: b,
          foot,
          axis: male.frame.z,
          draft: (peg.draftDeg * Math.PI) / 180,
          isConcave: false,
        },
      ],
      3,
    );
    if (!side || !end) throw new Error('nothing was measured');
    return { side, end };
  };
  return { peg, male, female, measure };
}

const shifted = ({ positions, triangles }: Mesh, by: Vec3): Mesh => ({
  positions: positions.map((v, i) => v + by[i % 3]),
  triangles,
});

describe('the measured gap', () => {
  it('is the gap asked for, on oblique pegs of all sizes, seed 95', () => {
    for (let i = 0; i < 25; i++) {
      const random = makeRandom(95_000 + i);
      const width = 3 + 9 * random();
      const edgeRadiusMm = 0.3 + 0.06 * width * random();
      const draftDeg = 6 * random();
      const sideGapMm = 0.05 + 0.4 * random();
      // No less than the side gap and little more: so the tip's flat faces the socket's flat all over.
      const endGapMm = sideGapMm + 0.3 * edgeRadiusMm * random();
      const { measure } = jointPair(
        {
          widthMm: width,
          heightMm: width * (0.7 + 0.6 * random()),
          lengthMm: width * 0.8,
          draftDeg,
          edgeRadiusMm,
          sideGapMm,
          endGapMm,
          spinDeg: 360 * random(),
        },
        [random() - 0.5, random() - 0.5, random() - 0.5],
      );
      const { side, end } = measure();
      for (const value of [side.min, side.mean, side.max])
        expect(Math.abs(value - sideGapMm), `seed ${95_000 + i}`).toBeLessThan(2 * TOLERANCES.jointChord);
      for (const value of [end.min, end.mean, end.max])
        expect(Math.abs(value - endGapMm), `seed ${95_000 + i}`).toBeLessThan(2 * TOLERANCES.jointChord);
    }
  });

  it('shows a peg that stands 0.05 mm to one side', () => {
    const { measure, male } = jointPair({ draftDeg: 0 });
    const { side, end } = measure(
      shifted(male.surface, male.frame.x.map((v) => v * 0.05) as unknown as Vec3),
    );
    expect(side.min).toBeCloseTo(0.07, 2);
    expect(side.max).toBeCloseTo(0.17, 2);
    expect(end.mean).toBeCloseTo(0.4, 2);
  });

  it('shows a socket 0.05 mm too shallow', () => {
    const { measure, female } = jointPair({ draftDeg: 0 });
    const { side, end } = measure(
      undefined,
      shifted(female.surface, female.frame.z.map((v) => v * -0.05) as unknown as Vec3),
    );
    expect(end.min).toBeCloseTo(0.35, 2);
    expect(end.max).toBeCloseTo(0.35, 2);
    expect(side.mean).toBeCloseTo(0.12, 3);
  });

  it('shows a single vertex of the socket pushed 0.05 mm inwards', () => {
    const { measure, female } = jointPair({});
    const positions = female.surface.positions.slice();
    for (let k = 0; k < 3; k++)
      positions[k] +=
        (0.05 * (female.frame.foot[k] - positions[k])) /
        Math.hypot(...[0, 1, 2].map((j) => female.frame.foot[j] - positions[j]));
    const { side } = measure(undefined, { positions, triangles: female.surface.triangles });
    expect(side.min).toBeLessThan(0.12 - 0.01);
  });

  it('is null when a surface is missing', () => {
    const { male } = jointPair({});
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    const measured = (peg: Mesh, socket: Mesh) =>
      measureGap([{ peg, socket, foot: [0, 0, 0], axis: [0, 0, 1], draft: 0, isConcave: false }], 3);
    expect(measured(male.surface, none)).toEqual({ side: null, end: null });
    expect(measured(none, male.surface)).toEqual({ side: null, end: null });
  });
});
