import { beforeAll, describe, expect, it } from 'vitest';
import { localJoin } from '../../src/joint/local-join.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { loopArea } from '../../src/math/polygon.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { PatchOf } from '../../src/mesh/part/part.ts';
import { sectionFrame, sectionPart, sectionProfile } from '../../src/section/joint-section.ts';
import { turned } from '../support/figures.ts';
import { cutFigure, type Fixture, jointsAt, pegOf, SEAM } from '../support/seam-fixture.ts';
import { box, fanned } from '../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const PEG = pegOf({ widthMm: 7, heightMm: 5, lengthMm: 6, draftDeg: 8, edgeRadiusMm: 0.6, spinDeg: 25 });
const DRAFT = (8 * Math.PI) / 180;
const isJoint = (of: PatchOf) => of.kind === 'joint';

/** A block 40 × 30 × 40 that lies askew, cut square through its middle, with the peg on the back. */
function joined() {
  const [a, b] = [0.7, 0.4];
  const block = turned(fanned(box([-20, -15, -20], [20, 15, 20])), 0, b, a);
  const normal: Vec3 = [Math.sin(a) * Math.sin(b), -Math.cos(a) * Math.sin(b), Math.cos(b)];
  const fixture = cutFigure(kernel, block, normal, 0) as Fixture;
  const { peg, socket } = jointsAt(fixture.cut, [2, -1], PEG);
  const { back, front, cut } = fixture;
  const facet = { seamId: SEAM, facet: 0 };
  const [{ frame }] = cut.facets;
  return {
    joint: peg.frame,
    pegged: localJoin(kernel, back.part, facet, frame, 'back', back.face, [peg]),
    socketed: localJoin(kernel, front.part, facet, frame, 'front', front.face, [socket]),
  };
}

const widthAt = (profile: Float64Array, v: number): number => {
  const crossings: number[] = [];
  for (let i = 2; i < profile.length; i += 2) {
    const [u0, v0, u1, v1] = profile.subarray(i - 2, i + 2);
    if (v0 <= v !== v1 <= v) crossings.push(u0 + ((v - v0) / (v1 - v0)) * (u1 - u0));
  }
  return Math.max(...crossings) - Math.min(...crossings);
};

describe('a section through a peg', () => {
  for (const [across, size] of [
    ['width', PEG.widthMm],
    ['height', PEG.heightMm],
  ] as const) {
    it(`shows the ${across}, length, draft and gaps asked for`, () => {
      const { joint, pegged, socketed } = joined();
      const frame = sectionFrame({
        foot: joint.foot,
        across: across === 'width' ? joint.x : joint.y,
        along: joint.z,
      });
      const [peg, socket] = [
        sectionProfile(pegged, frame, isJoint),
        sectionProfile(socketed, frame, isJoint),
      ];
      // Open lines from face to face, from the lesser u to the greater.
      const ends = (line: Float64Array) => [line[0], line[1], line[line.length - 2], line[line.length - 1]];
      const socketHalf = size / 2 + PEG.sideGapMm / Math.cos(DRAFT);
      [-size / 2, 0, size / 2, 0].forEach((v, i) => {
        expect(ends(peg)[i]).toBeCloseTo(v, 4);
      });
      [-socketHalf, 0, socketHalf, 0].forEach((v, i) => {
        expect(ends(socket)[i]).toBeCloseTo(v, 4);
      });
      const top = (line: Float64Array) => Math.max(...line.filter((_, i) => i % 2 === 1));
      expect(top(peg)).toBeCloseTo(PEG.lengthMm, 4);
      expect(top(socket)).toBeCloseTo(PEG.lengthMm + PEG.endGapMm, 4);
      for (const v of [1, 3, 5]) {
        expect(widthAt(peg, v)).toBeCloseTo(size - 2 * v * Math.tan(DRAFT), 4);
        expect(widthAt(socket, v)).toBeCloseTo(2 * socketHalf - 2 * v * Math.tan(DRAFT), 4);
      }
    });
  }

  it('shows both parts as closed outlines whose areas add up to the block less the gap', () => {
    const { joint, pegged, socketed } = joined();
    const frame = sectionFrame({ foot: joint.foot, across: joint.x, along: joint.z });
    const area = (loops: Float64Array[]) => Math.abs(loops.reduce((sum, loop) => sum + loopArea(loop), 0));
    const profileArea = (line: Float64Array) => Math.abs(loopArea(line));
    const [a, b] = [sectionPart(pegged, frame), sectionPart(socketed, frame)];
    expect([a.length, b.length]).toEqual([1, 1]);
    const [peg, socket] = [sectionProfile(pegged, frame, isJoint), sectionProfile(socketed, frame, isJoint)];
    const whole = area(
      sectionPart({ ...pegged, patches: pegged.patches.filter(({ of }) => !isJoint(of)) }, frame),
    );
    expect(whole).toBe(0);
    expect(area(a) - profileArea(peg)).toBeCloseTo(area(b) + profileArea(socket), 3);
  });

  it('is empty where the plane does not meet the joint', () => {
    const { joint, pegged } = joined();
    const foot = joint.foot.map((v, k) => v + 9 * joint.y[k]) as unknown as Vec3;
    expect(sectionProfile(pegged, sectionFrame({ foot, across: joint.x, along: joint.z }), isJoint)).toEqual(
      new Float64Array(0),
    );
  });
});
