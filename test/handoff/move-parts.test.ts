import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { partFiles } from '../../src/handoff/write-parts.ts';
import { PART_FORMATS } from '../../src/io/writers.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { add } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf, pegWith, type SeamInput } from '../support/job.ts';
import { asSource } from '../support/mesh-files.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { boxed, distanceTo, samplesOn } from '../support/soup-gap.ts';
import {
  pick,
  readSoup,
  type Soup,
  soupVolume,
  triangleKeys,
  unpairedEdges,
  writeSoup,
} from '../support/stl-bytes.ts';

/** Parts of figures far from their file's origin, judged from the written files. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

type Point = readonly [number, number, number];

/** A text in double precision: what it says of a figure far out is as fine as what it says of one at the origin. */
const objOf = ({ positions, triangles }: Mesh, [x, y, z]: Point): string => {
  const lines: string[] = [];
  for (let i = 0; i < positions.length; i += 3)
    lines.push(`v ${positions[i] + x} ${positions[i + 1] + y} ${positions[i + 2] + z}`);
  for (let i = 0; i < triangles.length; i += 3)
    lines.push(`f ${triangles[i] + 1} ${triangles[i + 1] + 1} ${triangles[i + 2] + 1}`);
  return lines.join('\n');
};

/** What is written of a job on a file, as the files have it. */
async function written(name: string, file: string | Uint8Array, seams: readonly SeamInput[]) {
  const sculpt = await openSculpt(asSource(name, file), { scale: 1 });
  const { evaluation, tree } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(jobOf(seams));
  const parts = tree.parts.map(({ plain, part }) => ({ name: plain.name, part }));
  const soups = partFiles(PART_FORMATS[0], 'figure', parts, add(sculpt.originMm, evaluation.movedMm)).map(
    ({ chunks }) => readSoup(Uint8Array.from([...chunks].flatMap((chunk) => [...chunk]))),
  );
  return { sculpt, evaluation, soups };
}

const lowest = (soup: Soup, axis: number) =>
  soup.reduce((least, x, i) => (i % 3 === axis ? Math.min(least, x) : least), Number.POSITIVE_INFINITY);

/** Triangles with their middle in a box. */
const within = (soup: Soup, low: Point, high: Point) =>
  pick(soup, (t) =>
    [0, 1, 2].every((k) => {
      const middle = (soup[t * 9 + k] + soup[t * 9 + 3 + k] + soup[t * 9 + 6 + k]) / 3;
      return middle > low[k] && middle < high[k];
    }),
  );

/** Least and greatest gap between a peg's sides and its socket, the peg standing upright at a place of the files. */
function sideGap(pegged: Soup, socketed: Soup, [x, y, z]: Point): [number, number] {
  const near = (soup: Soup) => within(soup, [x - 5, y - 5, z + 0.01], [x + 5, y + 5, z + 8]);
  const socket = boxed(near(socketed));
  const gaps = samplesOn(near(pegged))
    .filter(({ point, normal }) => Math.abs(normal[2]) < 0.2 && point[2] > z + 1 && point[2] < z + 4)
    .map(({ point }) => distanceTo(socket, point));
  expect(gaps.length).toBeGreaterThan(50);
  return [Math.min(...gaps), Math.max(...gaps)];
}

describe('parts far from the origin', () => {
  it('have the seam face that they have near it', async () => {
    const figure = lumpySphere(7, 22, 3, 0.2);
    const areaAt = async (place: Point) => {
      const seams = [{ offsetMm: place[2] + 0.3 }];
      return (await written('figure.obj', objOf(figure, place), seams)).evaluation.seams[0].areaMm2;
    };
    const near = await areaAt([0, 0, 0]);
    for (const place of [
      [1e6, 1e6, 1e6],
      [-73_000.7, 12_345.6, 910_000.9],
    ] as const) {
      expect(Math.abs((await areaAt(place)) / near - 1)).toBeLessThan(1e-5);
    }
  });

  const random = makeRandom(510);
  const places = Array.from({ length: 24 }, (_, i): Point => {
    // From nothing to a million, the first few round, the others as they come.
    const far = i < 6 ? [0, 1000, 10_000, 50_000, 500_000, 1e6][i] : 10 ** (1 + random() * 5);
    const along = [random() - 0.5, random() - 0.5, random() - 0.5].map((d) => (i < 6 ? Math.sign(d) : 2 * d));
    return [far * along[0], far * along[1], far * along[2]];
  });

  it.each(places)('are written as they were measured, at %d, %d, %d, seed 510', async (...place) => {
    const figure = lumpySphere(7, 22, 3, 0.2);
    const seam: SeamInput = {
      offsetMm: place[2] + 0.3,
      pegs: [pegWith({ at: [place[0], place[1], place[2]] })],
    };
    const { evaluation, soups } = await written('figure.obj', objOf(figure, place), [seam]);
    const { movedMm } = evaluation;
    expect(evaluation.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    evaluation.parts.forEach((part, i) => {
      expect(unpairedEdges(soups[i])).toBe(0);
      const volume = soupVolume(soups[i], soups[i].subarray(0, 3) as unknown as number[]);
      expect(Math.abs(volume - part.volumeMm3)).toBeLessThan(1e-6 * part.volumeMm3);
      for (const axis of [0, 1, 2]) {
        expect(lowest(soups[i], axis)).toBeCloseTo(part.boundsMm.min[axis] + movedMm[axis], 2);
      }
    });
    const [front, back] = soups;
    const [least, most] = sideGap(back, front, [
      place[0] + movedMm[0],
      place[1] + movedMm[1],
      seam.offsetMm! + movedMm[2],
    ]);
    expect(least).toBeGreaterThan(0.11);
    expect(most).toBeLessThan(0.13);
    const told = evaluation.findings.some(({ code }) => code === 'parts-moved');
    expect(told).toBe(movedMm.some((by) => by !== 0));
    if (Math.max(...place.map(Math.abs)) > 50_000) expect(told).toBe(true);
  });

  it('are moved all by the same, so that a seam still lies on a seam', async () => {
    const place: Point = [300_000, -7, 12.5];
    const seams: SeamInput[] = [
      { id: 'low', offsetMm: 9 },
      { id: 'high', of: 'low.front', offsetMm: 17 },
    ];
    const { evaluation, soups } = await written(
      'figure.obj',
      objOf(lumpySphere(3, 20, 3, 0.2), place),
      seams,
    );
    expect(evaluation.movedMm[0]).toBeLessThan(-299_000);
    const onPlane = (soup: Soup, z: number) =>
      new Set(
        Array.from({ length: soup.length / 3 }, (_, v) => soup.subarray(v * 3, v * 3 + 3).join()).filter(
          (p) => p.endsWith(`,${Math.fround(z + evaluation.movedMm[2])}`),
        ),
      );
    const byName = (name: string) => soups[evaluation.parts.findIndex((part) => part.name === name)];
    expect(onPlane(byName('low back'), 9).size).toBeGreaterThan(10);
    expect(onPlane(byName('high back'), 9)).toEqual(onPlane(byName('low back'), 9));
    expect(onPlane(byName('high front'), 17)).toEqual(onPlane(byName('high back'), 17));
  });

  it('that no seam divides come out bit for bit, however far', async () => {
    const { positions, triangles } = lumpySphere(5, 30);
    const soup = Float32Array.from(
      { length: triangles.length * 3 },
      (_, i) => positions[triangles[(i / 3) | 0] * 3 + (i % 3)] * 16 + 1e6,
    );
    const { evaluation, soups } = await written('figure.stl', writeSoup(soup), []);
    expect(evaluation.movedMm).toEqual([0, 0, 0]);
    expect(triangleKeys(soups[0])).toEqual(triangleKeys(soup));
  });

  it('stay where they are where the file holds them, and say nothing', async () => {
    const { evaluation } = await written('figure.obj', objOf(lumpySphere(7, 22), [300, 40, 200]), [
      { offsetMm: 200.3 },
    ]);
    expect(evaluation.movedMm).toEqual([0, 0, 0]);
    expect(evaluation.findings.map(({ code }) => code)).not.toContain('parts-moved');
  });

  it('of a figure so large that no place is fine enough for a gap are told as an error', async () => {
    const half = 500_000;
    const { evaluation } = await written(
      'figure.obj',
      objOf(fanned(box([-half, -half, -half], [half, half, half])), [0, 0, 0]),
      [{ offsetMm: 400_000.3, pegs: [pegWith({ at: [400_000, 400_000, 400_000.3] })] }],
    );
    const errors = evaluation.findings.filter(({ severity }) => severity === 'error');
    expect(errors.map(({ code }) => code)).toContain('gap-not-met');
  });
});
