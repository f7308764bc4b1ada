import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { touchingBodies } from '../../src/pipeline/touching-bodies.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { arc, turnedSolid } from '../support/lathe.ts';
import { isSound } from '../support/seam-fixture.ts';
import { fanned, moved, together } from '../support/simple-solids.ts';

/** Bodies that touch on curved surface, and flats set across them. The figures are invented. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const R = 10;
const ballOf = (radius: number) => fanned(turnedSolid(arc(radius, 180, 0, 46), 60));
const ball = ballOf(R);
/** Its facets clear the ball's corners: a slit of up to 0.06 mm. */
const bowl = fanned(turnedSolid([[0, -14], [14, -14], [14, 0], ...arc(R + 0.04, 90, 180, 16)], 48));
/** A post whose top is a dome of 16 mm radius, 12 mm wide, and a cap that sits on it down to the dome's edge. */
const DOME = (Math.asin(12 / 16) * 180) / Math.PI;
const post = fanned(turnedSolid([[0, -5], [12, -5], ...arc(16, DOME, 0, 16)], 90));
const cap = fanned(turnedSolid([...arc(16.03, 0, DOME, 16), [12.02, 24], [0, 24]], 64));

const flatAt = (z: number) => ({ flat: { at: [0, 0, z], normal: [0, 0, 1] } });
const small = pegWith({ at: 'auto', widthMm: 4, heightMm: 4, lengthMm: 4 });

async function joined(mesh: Mesh, nest: NonNullable<SeamInput['nest']>, pegs = [small]) {
  const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(mesh));
  const job = jobOf([{ id: 'join', bodies: ['2', '1'], nest, pegs }]);
  const { evaluation, tree } = await evaluator.evaluate(job);
  return { evaluator, job, evaluation, parts: tree.parts.map(({ part }) => part), seam: evaluation.seams[0] };
}

const said = ({ evaluation }: Awaited<ReturnType<typeof joined>>) =>
  evaluation.findings.flatMap(({ code, severity, facts }) =>
    code === 'nest-without-flat' ? [{ severity, ...facts }] : [],
  );

describe('bodies that touch on curved surface', () => {
  it('are found, with how much of it there is', async () => {
    const [pair, ...more] = touchingBodies(kernel, await sculptOf(together(bowl, ball)));
    expect(more).toEqual([]);
    expect(pair).toMatchObject({ front: 'body:2', back: 'body:1', curved: true, overlap: false });
    // Half a sphere, to within its facets.
    expect(Math.abs(pair.areaMm2 / (2 * Math.PI * R ** 2) - 1)).toBeLessThan(0.01);
    const apart = together(bowl, ballOf(R - 0.2));
    expect(touchingBodies(kernel, await sculptOf(apart))).toEqual([]);
  });

  it('are joined without a flat by their shape alone, which is told', async () => {
    const without = await joined(together(bowl, ball), {}, []);
    expect(said(without)).toEqual([{ severity: 'info', pegs: 0, flatMisses: false }]);
    expect(said(await joined(together(bowl, ball), {}))).toEqual([
      { severity: 'error', pegs: 1, flatMisses: false },
    ]);
    await expect(joined(together(bowl, ballOf(R - 0.2)), {})).rejects.toMatchObject({
      code: 'seam-without-contact',
    });
  });

  it('are told of a flat that misses both, or has nothing but the contact itself on it', async () => {
    for (const z of [11, -14.1]) {
      const run = await joined(together(bowl, ball), flatAt(z));
      expect(said(run), `${z}`).toEqual([{ severity: 'error', pegs: 1, flatMisses: true }]);
      expect(run.parts.every(isSound)).toBe(true);
      expect(run.evaluator.outline('join', run.job.seams[0].by)[0].outlines).toEqual([]);
    }
    // A dome of 400 mm radius, 16 mm wide, rises by 0.08 mm.
    const slight = (Math.asin(8 / 400) * 180) / Math.PI;
    const top = arc(400, slight, 0, 12).map(([r, z]): [number, number] => [r, z - 400]);
    const low = fanned(turnedSolid([[0, -9], [8, -9], ...top], 40));
    const high = fanned(turnedSolid([...top.toReversed(), [8, 7], [0, 7]], 40));
    const run = await joined(together(low, moved(high, [0, 0, 0.01])), flatAt(-0.04));
    expect(said(run)).toEqual([{ severity: 'error', pegs: 1, flatMisses: true }]);
  });

  it('hand over what leaves more room: a flat low in a bowl has the ball, one lower still what is around it', async () => {
    const from = async (z: number) => {
      const { evaluation, parts } = await joined(together(bowl, ball), flatAt(z), []);
      expect(parts.every(isSound)).toBe(true);
      return evaluation.findings.flatMap(({ code, facts }) =>
        code === 'flat-hands-over' ? [(facts as { from: { part: string } }).from.part] : [],
      );
    };
    expect(await from(-9)).toEqual(['join front']);
    expect(await from(-9.9)).toEqual(['join back']);
  });

  it('hand nothing to a wall too thin to take it', async () => {
    const shell = (mm: number) =>
      fanned(turnedSolid([...arc(R + mm, 180, 90, 24), ...arc(R, 90, 180, 24)], 60));
    expect(said(await joined(together(shell(0.1), ball), flatAt(-7)))).toEqual([
      { severity: 'error', pegs: 1, flatMisses: true },
    ]);
    expect(said(await joined(together(shell(2), ball), flatAt(-7), []))).toEqual([]);
  });

  it('hand over nothing that goes on past the contact', async () => {
    // A ring of 0.8 mm in a groove around a post: less than a prism is higher than the contact under it, so the post is in it above too.
    const groove: [number, number][] = [
      [12, -0.3],
      [8, -0.2],
      [4, 0],
      [4, 0.8],
      [11.8, 0.8],
    ];
    const post = fanned(turnedSolid([[0, -9], [12, -9], ...groove, [11.8, 9], [0, 9]], 60));
    const outline: [number, number][] = [
      [4.01, 0.01],
      [8, -0.19],
      [14, -0.29],
      [14, 0.79],
      [4.01, 0.79],
    ];
    const ring = fanned(turnedSolid([...outline, outline[0]], 60));
    const run = await joined(together(post, ring), flatAt(-1));
    expect(said(run)).toEqual([{ severity: 'error', pegs: 1, flatMisses: true }]);
  });

  it('give what lies between a flat and the contact to the other: a dome its top to the cap over it', async () => {
    const { evaluation, parts, seam } = await joined(together(post, cap), flatAt(13.5));
    expect(evaluation.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(parts.every(isSound)).toBe(true);
    const radius = Math.sqrt(16 ** 2 - 13.5 ** 2) - 0.5;
    expect(Math.abs(seam.areaMm2 / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.03);
    expect(evaluation.findings.map(({ code, facts }) => [code, facts])).toContainEqual([
      'flat-hands-over',
      expect.objectContaining({ part: 'join front', from: { part: 'join back' } }),
    ]);
    expect(seam.joints[0].settled.at[2]).toBeCloseTo(13.5, 4);
    expect(seam.draw.free).toBe(true);
    // Where it shows they touch as they did.
    expect(Math.min(...evaluation.parts.map(({ boundsMm }) => boundsMm.min[2]))).toBe(-5);
    expect(evaluation.parts[0].boundsMm.min[2]).toBeCloseTo(16.03 * Math.cos(Math.asin(12 / 16)), 3);
  });

  it('have on the bench the outline that the flat then has', async () => {
    const { evaluator, job, seam } = await joined(together(bowl, ball), flatAt(-6));
    const [outline] = evaluator.outline('join', job.seams[0].by);
    expect(outline.areaMm2).toBeCloseTo(seam.areaMm2, 2);
  });

  it('keep what is hollow above the contact: what a flat cuts off must touch all over', async () => {
    const pip = fanned(turnedSolid(arc(0.8, 180, 0, 8), 16));
    const inward: Mesh = { positions: pip.positions, triangles: pip.triangles.toReversed() };
    const hollow = together(ball, moved(inward, [0, 0, -8.5]));
    const run = await joined(together(bowl, hollow), flatAt(-7));
    expect(said(run)).toEqual([{ severity: 'error', pegs: 1, flatMisses: true }]);
  });
});
