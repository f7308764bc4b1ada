import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { toErrorRecord } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { mirroredPlace, mirroredVec } from '../../src/math/mirror.ts';
import { fromFrame, type PlaneFrame, planeFrame } from '../../src/math/plane.ts';
import { add, cross, dot, length, normalize, scale, sub, type Vec3 } from '../../src/math/vec3.ts';
import type { Job } from '../../src/model/job.ts';
import { planeOf, type SeamPlane } from '../../src/model/seam-spec.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import type { JointResult, SeamResult } from '../../src/pipeline/evaluation.ts';
import { sculptSymmetry } from '../../src/pipeline/symmetry.ts';
import { type Biped, biped } from '../support/biped.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { armed, box, fanned, together } from '../support/simple-solids.ts';
import { trials } from '../support/sweep.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** The job with the image of one of its seams after all others. */
function withImage(job: Job, evaluator: Evaluator, seamId: string, across: SeamPlane, id = 'image'): Job {
  const { areasMm2: _, ...image } = evaluator.mirrored(job, seamId, across);
  return {
    ...job,
    seams: [...job.seams, { id, names: { front: `${id} front`, back: `${id} back` }, ...image }],
  };
}

/** A seam through the arm of a biped, leaning, with pegs that are spun. */
function armSeam({ at, arm }: Biped, random: () => number): SeamInput {
  const across = planeFrame({ normal: arm, offset: 0 });
  const normal = normalize(add(arm, add(scale(across.u, 0.3 * random()), scale(across.v, 0.3 * random()))));
  const middle = add(at, scale(arm, 20));
  const frame = planeFrame({ normal, offset: dot(normal, middle) }, middle);
  const footAt = (x: number) => fromFrame(frame, [x, 0.4]);
  return {
    id: 'arm',
    normal,
    offsetMm: dot(normal, middle),
    through: [middle],
    pegOn: random() < 0.5 ? 'back' : 'front',
    pegs: [
      pegWith({ at: footAt(-1.9), widthMm: 2.6, heightMm: 1.8, lengthMm: 3, spinDeg: 360 * random() - 180 }),
      { kind: 'round', at: footAt(1.9), diameterMm: 2, lengthMm: 3 },
    ],
  };
}

/** The corners of a joint's pieces at the face, in space, mm. */
const cornersOf = ({ outlines }: JointResult, frame: PlaneFrame): Vec3[] =>
  outlines.flatMap(({ outline }) =>
    Array.from({ length: outline.length / 2 }, (_, i) =>
      fromFrame(frame, [outline[2 * i], outline[2 * i + 1]]),
    ),
  );

/** The way a joint's own x axis lies along its face. */
function alongOf({ settled: { spinDeg = 0 } }: JointResult, { u, v }: PlaneFrame): Vec3 {
  const spin = (spinDeg * Math.PI) / 180;
  return add(scale(u, Math.cos(spin)), scale(v, Math.sin(spin)));
}

/** How far the joints of one seam are from the mirror images of another's: places (mm) and axes, and outlines as they were made (mm). */
function farthestOff(
  own: SeamResult,
  image: SeamResult,
  across: SeamPlane,
): { joints: number; made: number } {
  const mirror = planeOf(across);
  const [from, to] = [own.facets[0].frame, image.facets[0].frame];
  const joints: number[] = [];
  const made: number[] = [];
  own.joints.forEach((joint, i) => {
    const other = image.joints[i];
    const place = mirroredPlace(mirror, joint.settled.at);
    joints.push(length(sub(place, other.settled.at)));
    joints.push(length(sub(mirroredVec(mirror, joint.axis), other.axis)));
    const corners = cornersOf(other, to);
    const images = cornersOf(joint, from).map((corner) => mirroredPlace(mirror, corner));
    if (joint.settled.kind === 'round') {
      // Where on its circle the corners of a round one are is nobody's wish.
      made.push(...images.map((corner, k) => length(sub(corner, place)) - length(sub(corners[k], place))));
      return;
    }
    // Half a turn farther it is the same one.
    joints.push(length(cross(mirroredVec(mirror, alongOf(joint, from)), alongOf(other, to))));
    made.push(...images.map((corner) => Math.min(...corners.map((c) => length(sub(c, corner))))));
  });
  return { joints: Math.max(...joints), made: Math.max(...made.map(Math.abs)) };
}

describe('the mirror image of a seam', () => {
  it.each(Array.from({ length: trials(40, 6) }, (_, seed) => seed))(
    'has its joints within a millionth of a mm of their images, and parts of equal volume, seed %i',
    async (seed) => {
      const figure = biped(seed, { levels: 5, astray: seed % 3 !== 0 });
      const sculpt = await sculptOf(figure.mesh);
      const evaluator = createEvaluator(onlyHere(kernel), sculpt);
      const { across, isSymmetric } = sculptSymmetry(sculpt, null);
      expect(isSymmetric).toBe(true);
      const one = jobOf([armSeam(figure, makeRandom(seed))]);
      const both = withImage(one, evaluator, 'arm', across);
      expect(both.seams[1].of).toBe('arm.back');
      const { evaluation } = await evaluator.evaluate(both);
      const [own, image] = evaluation.seams;
      expect(own.joints.length).toBe(2);
      const off = farthestOff(own, image, across);
      expect(off.joints).toBeLessThan(1e-6);
      // What is made of them is in single precision, whose steps are 8e-6 mm out there.
      expect(off.made).toBeLessThan(2e-5);
      const volumeOf = (id: string) => evaluation.parts.find((part) => part.id === id)!.volumeMm3;
      expect(Math.abs(volumeOf('image.front') / volumeOf('arm.front') - 1)).toBeLessThan(1e-5);
      expect(Math.abs(image.areaMm2 / own.areaMm2 - 1)).toBeLessThan(1e-5);
      expect(Math.abs(evaluation.volume.residualMm3)).toBeLessThan(0.01);
    },
    60_000,
  );

  it('that is swept from a line has its joints within a millionth of a mm of their images, run by run', async () => {
    // A cross of arms: the left one is divided by a stair, with a peg on its riser that is spun.
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(armed()));
    const line: Vec3[] = [
      [-19, 0, 30],
      [-19, 0, 5],
      [-17, 0, 3],
      [-17, 0, -30],
    ];
    const peg = pegWith({
      at: [-19, 1, 6],
      widthMm: 1.6,
      heightMm: 1.2,
      lengthMm: 2,
      edgeRadiusMm: 0.2,
      spinDeg: 20,
    });
    const one = jobOf([{ id: 'arm', line, through: [[-19, 0, 6]], pegs: [peg] }]);
    const across: SeamPlane = { normal: [1, 0, 0], offsetMm: 0 };
    const { evaluation } = await evaluator.evaluate(withImage(one, evaluator, 'arm', across));
    const [own, image] = evaluation.seams;
    const mirror = planeOf(across);
    expect(image.facets.map(({ areaMm2 }) => areaMm2).reverse()).toEqual(
      own.facets.map(({ areaMm2 }) => expect.closeTo(areaMm2, 4)),
    );
    const [joint, other] = [own.joints[0], image.joints[0]];
    expect([joint.facet, other.facet]).toEqual([0, 2]);
    expect(length(sub(mirroredPlace(mirror, joint.settled.at), other.settled.at))).toBeLessThan(1e-6);
    expect(length(sub(mirroredVec(mirror, joint.axis), other.axis))).toBeLessThan(1e-6);
    const [from, to] = [own.facets[0].frame, image.facets[2].frame];
    expect(length(cross(mirroredVec(mirror, alongOf(joint, from)), alongOf(other, to)))).toBeLessThan(1e-6);
    const least = (seamId: string) =>
      Math.min(
        ...evaluation.parts.filter(({ id }) => id.startsWith(`${seamId}.`)).map(({ volumeMm3 }) => volumeMm3),
      );
    expect(Math.abs(least('image') / least('arm') - 1)).toBeLessThan(1e-5);
  });

  it('of an image is the seam again', async () => {
    const figure = biped(4, { astray: true });
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(figure.mesh));
    const across: SeamPlane = { normal: figure.mirror.normal, offsetMm: figure.mirror.offset };
    const one = jobOf([armSeam(figure, makeRandom(4))]);
    const image = evaluator.mirrored(one, 'arm', across);
    const alone: Job = { ...one, seams: [{ ...one.seams[0], by: image.by, joints: image.joints }] };
    const again = evaluator.mirrored(alone, 'arm', across);
    const [before] = one.seams;
    const plane = (by: typeof image.by) => (by.kind === 'plane' ? [...by.normal, by.offsetMm] : []);
    const offs = plane(before.by).map((value, i) => Math.abs(value - plane(again.by)[i]));
    expect(Math.max(...offs)).toBeLessThan(1e-9);
    before.joints.forEach((joint, i) => {
      expect(length(sub(again.joints[i].at as Vec3, joint.at as Vec3))).toBeLessThan(1e-6);
      const turns = ((joint.spinDeg ?? 0) - (again.joints[i].spinDeg ?? 0)) / 180;
      expect(Math.abs(turns - Math.round(turns))).toBeLessThan(1e-9);
    });
  });
});

const ACROSS_X: SeamPlane = { normal: [1, 0, 0], offsetMm: 0 };
const right: SeamInput = { id: 'right', normal: [1, 0, 0], offsetMm: 12 };
const evaluatorOf = async (mesh = armed()) => createEvaluator(onlyHere(kernel), await sculptOf(mesh));

describe('the mirror image of a seam, part by part', () => {
  it('leaves to the engine what was left to it, and sizes as they were', async () => {
    const peg = { kind: 'taper', at: 'auto', widthMm: 3 } as const;
    const image = (await evaluatorOf()).mirrored(jobOf([{ ...right, pegs: [peg] }]), 'right', ACROSS_X);
    expect(image.joints).toEqual([{ id: 'a', ...peg }]);
    expect(image.by).toEqual({ kind: 'plane', normal: [-1, 0, 0], offsetMm: 12 });
    expect(image).toMatchObject({ of: 'right.back', pegOn: 'back' });
  });

  it('divides the part that it lies in, whatever was divided before', async () => {
    const evaluator = await evaluatorOf();
    const hand: SeamInput = { id: 'hand', of: 'right.front', normal: [1, 0, 0], offsetMm: 20 };
    const job = jobOf([right, hand, { id: 'waist', of: 'right.back', offsetMm: -4, through: [[7, 0, -4]] }]);
    const arms = withImage(job, evaluator, 'right', ACROSS_X, 'left');
    expect(arms.seams[3].of).toBe('waist.front');
    const hands = withImage(arms, evaluator, 'hand', ACROSS_X, 'other hand');
    expect(hands.seams[4].of).toBe('left.front');
    const legs = withImage(hands, evaluator, 'waist', ACROSS_X, 'other leg');
    expect(legs.seams[5]).toMatchObject({ of: 'left.back', by: { through: [[-7, 0, -4]] } });
    const { evaluation } = await evaluator.evaluate(legs);
    const volumes = evaluation.parts.map(({ id, volumeMm3 }) => [id, Math.round(volumeMm3)]);
    const arm = 10 * 8 * 12;
    expect(Object.fromEntries(volumes)).toMatchObject({
      'hand.front': arm,
      'other hand.front': arm,
      'waist.back': 6 * 16 * 12,
      'other leg.back': 6 * 16 * 12,
    });
  });

  it('cuts no more of its part than the seam does of its own', async () => {
    const evaluator = await evaluatorOf();
    const slant: SeamInput = { id: 'slant', of: 'right.front', normal: [1, 0, 1], offsetMm: 24 / Math.SQRT2 };
    const both = withImage(jobOf([right, slant]), evaluator, 'slant', ACROSS_X);
    const { evaluation } = await evaluator.evaluate(both);
    const [, own, image] = evaluation.seams;
    expect(image.areaMm2).toBeCloseTo(own.areaMm2, 3);
    // The plane passes through the trunk as well, which stays whole.
    expect(image.facets[0].uncut.length).toBe(1);
  });

  it('of one that is only in part its own image is the rest', async () => {
    const evaluator = await evaluatorOf();
    // Both legs lie in its plane, and it cuts the right one and the right arm.
    const job = jobOf([{ id: 'legs', offsetMm: -8 }]);
    const across: SeamPlane = { normal: [1, 0, 0], offsetMm: 0 };
    expect(() => evaluator.mirrored(job, 'legs', across)).toThrow(/mirror-on-seam/);
    const leg = jobOf([{ id: 'leg', offsetMm: -8, through: [[7, 0, -8]] }]);
    const image = evaluator.mirrored(leg, 'leg', across);
    expect(image).toMatchObject({ of: 'leg.front', by: { through: [[-7, 0, -8]] } });
  });

  it('is refused for what joins bodies', async () => {
    const pair = together(fanned(box([0, 0, 0], [20, 20, 10])), fanned(box([2, 2, 10], [18, 18, 20])));
    const evaluator = await evaluatorOf(pair);
    const job = jobOf([{ id: 'joint', bodies: ['1', '2'] }]);
    expect(() => evaluator.mirrored(job, 'joint', ACROSS_X)).toThrow(/seam-not-mirrored/);
    try {
      evaluator.mirrored(job, 'joint', ACROSS_X);
    } catch (thrown) {
      expect(toErrorRecord(thrown)).toEqual({ code: 'seam-not-mirrored', facts: { seamId: 'joint' } });
    }
  });
});
