import { beforeAll, describe, expect, it } from 'vitest';
import { partFiles } from '../../src/handoff/write-parts.ts';
import { PART_FORMATS } from '../../src/io/writers.ts';
import { outlinesOnFace } from '../../src/joint/face-outlines.ts';
import { addJointKind, jointKinds } from '../../src/joint/kinds.ts';
import { taperedKind } from '../../src/joint/tapered.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { toFrame } from '../../src/math/plane.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { LIMITS } from '../../src/model/limits.ts';
import { drawSection } from '../../src/pipeline/draw-section.ts';
import { createEvaluator, type Evaluated, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { onSurface, samplesOn, trianglesOf } from '../support/independent-gap.ts';
import { jobOf, type PegInput, type SeamInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { isClosedStl } from '../support/stl-check.ts';

/** A kind that no source knows of goes all the way by being added to those there are. */

/** The right triangle of sides 3, 4 and 5 about the middle of the circle in it, whose radius is 1: no mirror image of itself. */
const TRIANGLE: readonly Vec2[] = [
  [-1, -1],
  [3, -1],
  [-1, 2],
];

/** A tapered peg of that section, measured by the circle in it. */
addJointKind(
  taperedKind({
    name: 'triangle',
    fields: [{ name: 'innerMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' }],
    spins: true,
    turnsDeg: [0],
    sizes: (asked, widthMm) => ({ innerMm: asked.innerMm ?? widthMm / 2 }),
    narrowMm: ({ innerMm }) => innerMm,
    widened: ({ innerMm }, mm) => ({ innerMm: Math.max(innerMm, mm) }),
    core({ innerMm }, { inset }) {
      const radius = innerMm / 2 - inset;
      return { corners: TRIANGLE.map(([x, y]): Vec2 => [x * radius, y * radius]) };
    },
  }),
);

const INNER = 4;
const [SIDE_GAP, END_GAP, DRAFT_DEG] = [0.15, 0.35, 5];
const triangle = (sizes: Partial<PegInput> = {}): PegInput => ({
  kind: 'triangle',
  at: [3, -2, 0],
  innerMm: INNER,
  lengthMm: 5,
  draftDeg: DRAFT_DEG,
  edgeRadiusMm: 0.4,
  spinDeg: 25,
  sideGapMm: SIDE_GAP,
  endGapMm: END_GAP,
  ...sizes,
});

let block: Evaluator;
beforeAll(async () => {
  const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
  expect(sculpt.originMm).toEqual([0, 0, 0]);
  block = createEvaluator(onlyHere(await loadKernel()), sculpt);
});

const made = (seam: SeamInput): Promise<Evaluated> => block.evaluate(jobOf([seam]));
const codesOf = ({ evaluation }: Evaluated) => evaluation.findings.map(({ code }) => code);

/** What a joint added to a finished part, or took from it. */
function surfaceOf({ tree }: Evaluated, does: 'add' | 'take') {
  const meshes = tree.parts
    .map(({ part }) => meshOf(part, (of) => of.kind === 'joint' && of.does === does))
    .filter(({ triangles }) => triangles.length > 0);
  expect(meshes).toHaveLength(1);
  return meshes[0];
}

const cornersOf = ({ positions, triangles }: ReturnType<typeof surfaceOf>): Vec3[] =>
  [...new Set(triangles)].map((v) => [positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]]);

describe('a kind of joint that was added', () => {
  it('is there beside the others', () => {
    expect(jointKinds().map(({ name }) => name)).toContain('triangle');
  });

  it('is asked for in a job by its own sizes, and by no others', () => {
    expect(jobOf([{ pegs: [triangle()] }]).seams[0].joints[0]).toMatchObject({ innerMm: INNER });
    expect(() => jobOf([{ pegs: [triangle({ widthMm: 4 })] }])).toThrow();
    expect(() => jobOf([{ pegs: [triangle({ innerMm: 0 })] }])).toThrow();
  });

  for (const pegOn of ['back', 'front'] as const) {
    it(`is cut where it was placed, with the rim that is drawn on the face, pegs on the ${pegOn}`, async () => {
      const done = await made({ pegOn, pegs: [triangle()] });
      const [{ facets, joints }] = done.evaluation.seams;
      expect(done.evaluation.parts.map(({ closed }) => closed)).toEqual([true, true]);
      expect(done.tree.parts.every(({ part }) => isSound(part))).toBe(true);
      expect(joints.map(({ way }) => way)).toEqual(['local']);
      expect(Math.abs(done.evaluation.volume.residualMm3)).toBeLessThan(1e-3);
      const drawn = outlinesOnFace(joints[0].settled, toFrame(facets[0].frame, [3, -2, 0]), pegOn);
      expect(drawn.map(({ does }) => does).sort()).toEqual(['add', 'take']);
      for (const { does, outline } of drawn) {
        const rim = cornersOf(surfaceOf(done, does))
          .filter(([, , z]) => Math.abs(z) < 1e-5)
          .map((p) => toFrame(facets[0].frame, p));
        expect(rim.length).toBe(outline.length / 2);
        for (const [x, y] of rim) {
          const off = Array.from({ length: rim.length }, (_, i) =>
            Math.hypot(outline[i * 2] - x, outline[i * 2 + 1] - y),
          );
          expect(Math.min(...off)).toBeLessThan(1e-5);
        }
        const told = joints[0].outlines.find((one) => one.does === does)!.outline;
        expect(told).toHaveLength(outline.length);
        told.forEach((v, i) => {
          expect(v).toBeCloseTo(outline[i], 5);
        });
      }
    });

    it(`has the gaps asked for, as samples of the finished parts and the report have them, pegs on the ${pegOn}`, async () => {
      const done = await made({ pegOn, pegs: [triangle()] });
      const [{ sideGapMm, endGapMm, axis }] = done.evaluation.seams[0].joints;
      const allowed = 2 * TOLERANCES.jointChord;
      for (const value of Object.values(sideGapMm!)) expect(Math.abs(value - SIDE_GAP)).toBeLessThan(allowed);
      for (const value of Object.values(endGapMm!)) expect(Math.abs(value - END_GAP)).toBeLessThan(allowed);
      const [peg, socket] = (['add', 'take'] as const).map((does) => surfaceOf(done, does));
      const walls = trianglesOf(socket.positions, socket.triangles);
      const heightOf = (p: readonly number[]) => p[0] * axis[0] + p[1] * axis[1] + p[2] * axis[2];
      const sides = samplesOn(trianglesOf(peg.positions, peg.triangles), 2).filter((p) => heightOf(p) < 4.5);
      expect(sides.length).toBeGreaterThan(30);
      for (const p of sides) expect(Math.abs(onSurface(p, walls).distance - SIDE_GAP)).toBeLessThan(allowed);
      const [tip, end] = [peg, socket].map((mesh) => Math.max(...cornersOf(mesh).map(heightOf)));
      expect(tip).toBeCloseTo(5, 5);
      expect(end - tip).toBeCloseTo(END_GAP, 5);
    });

    it(`is drawn in section, by hand: −r and 5/3 r from the axis at the face, pegs on the ${pegOn}`, async () => {
      const done = await made({ pegOn, pegs: [triangle()] });
      const section = drawSection(done.tree, { seamId: 'neck', jointId: 'a', across: 'width' }, [0, 0, 0]);
      const { pegProfile, socketProfile, pegged, socketed } = section!;
      // The long side 3x + 4y = 5r crosses the joint's own x axis at 5/3 r; the socket's lies g / cos α farther out.
      const grown = INNER / 2 + SIDE_GAP / Math.cos((DRAFT_DEG * Math.PI) / 180);
      for (const [profile, radius] of [
        [pegProfile, INNER / 2],
        [socketProfile, grown],
      ] as const) {
        const ends = [...profile.slice(0, 2), ...profile.slice(-2)];
        [-radius, 0, (5 / 3) * radius, 0].forEach((v, i) => {
          expect(ends[i]).toBeCloseTo(v, 4);
        });
      }
      expect(Math.max(...pegProfile.filter((_, i) => i % 2 === 1))).toBeCloseTo(5, 5);
      expect([pegged.length, socketed.length]).toEqual([1, 1]);
    });

    it(`is measured for the wall around it, pegs on the ${pegOn}`, async () => {
      const done = await made({ pegOn, pegs: [triangle({ at: [11, 0, 0] })] });
      const [{ wallMm, faceWall, way }] = done.evaluation.seams[0].joints;
      const farthest = Math.max(...cornersOf(surfaceOf(done, 'take')).map(([x]) => x));
      expect(way).toBe('local');
      expect(wallMm.min).toBeCloseTo(20 - farthest, 4);
      expect(faceWall!.mm).toBeCloseTo(20 - farthest, 4);
      expect(codesOf(done)).not.toContain('wall-thin');
      const near = await made({ pegOn, pegs: [triangle({ at: [20 - (farthest - 11) - 0.5, 0, 0] })] });
      expect(codesOf(near)).toContain('wall-thin');
      expect(near.evaluation.seams[0].joints[0].wallMm.min).toBeCloseTo(0.5, 3);
    });

    it(`is written, and read back closed, pegs on the ${pegOn}`, async () => {
      const { evaluation, tree } = await made({ pegOn, pegs: [triangle()] });
      const parts = tree.parts.map(({ plain, part }) => ({ name: plain.id, part }));
      const files = partFiles(PART_FORMATS[0], 'figure', parts, [0, 0, 0]);
      expect(files).toHaveLength(2);
      files.forEach(({ chunks }, i) => {
        const { closed, triangles, volume } = isClosedStl(Buffer.concat([...chunks]));
        expect([closed, triangles]).toEqual([true, evaluation.parts[i].triangles]);
        expect(volume / evaluation.parts[i].volumeMm3).toBeCloseTo(1, 6);
      });
      const whole = 40 ** 3 / 2;
      const [{ addedMm3, takenMm3 }] = evaluation.seams[0].joints;
      const pegged = pegOn === 'front' ? 0 : 1;
      expect(evaluation.parts[pegged].volumeMm3).toBeCloseTo(whole + addedMm3, 2);
      expect(evaluation.parts[1 - pegged].volumeMm3).toBeCloseTo(whole - takenMm3, 2);
      expect(takenMm3).toBeGreaterThan(addedMm3);
    });
  }

  it('finds its place and sizes alone where it is left to the engine', async () => {
    const done = await made({ pegs: [{ kind: 'triangle', at: 'auto' }] });
    const [{ settled, way, wallMm }] = done.evaluation.seams[0].joints;
    expect(settled).toMatchObject({ kind: 'triangle', draftDeg: 6, sideGapMm: 0.12, endGapMm: 0.4 });
    expect(settled.innerMm).toBeGreaterThan(2);
    expect(way).toBe('local');
    expect(wallMm.min).toBeGreaterThan(1.2 - 1e-5);
    expect(done.evaluation.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
  });

  it('seats one way alone, as no taper of four equal sides does, and draws free', async () => {
    // Turned by its own triangle's angles nothing comes to lie on itself.
    const one = await made({ pegs: [triangle({ at: [0, 0, 0] })] });
    expect(one.evaluation.seams[0].oneWay).toBe(true);
    expect(one.evaluation.seams[0].draw.free).toBe(true);
    const square = await made({ pegs: [{ kind: 'taper', at: [0, 0, 0], widthMm: 5, heightMm: 5 }] });
    expect(square.evaluation.seams[0].oneWay).toBe(false);
  });

  it('is told and left to the kernel where it runs into another kind’s', async () => {
    const done = await made({ pegs: [triangle({ at: [0, 0, 0] }), { kind: 'taper', at: [3, 0, 0] }] });
    expect(codesOf(done)).toContain('pegs-too-close');
    expect(done.tree.parts.every(({ part }) => isSound(part))).toBe(true);
  });

  it('is refused where its sizes contradict each other, with what would do', async () => {
    const done = await made({ pegs: [triangle({ edgeRadiusMm: 2.2 })] });
    const [{ facts }] = done.evaluation.findings.filter(({ code }) => code === 'peg-shape-impossible');
    expect(facts).toMatchObject({ reason: 'edge-radius' });
    expect(done.evaluation.seams[0].joints).toEqual([]);
  });
});
