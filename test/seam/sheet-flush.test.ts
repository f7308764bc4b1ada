import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import type { SheetSpec } from '../../src/model/seam-schema.ts';
import { sheetSeam } from '../../src/model/swept-seam.ts';
import { createEvaluator, type Evaluated } from '../../src/pipeline/evaluate.ts';
import { block } from '../fuzz/jobs/figures.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { kernelVolumes } from '../support/sheet-judge.ts';
import { torus } from '../support/simple-solids.ts';
import { pieces, soupVolume, unpairedEdges } from '../support/stl-bytes.ts';

/** Sheets that lie in a figure's skin, or whose corners lie on it exactly: what a file then holds, by its coordinates alone. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const cutBy = async (mesh: Mesh, by: SheetSpec): Promise<Evaluated> => {
  const job = jobOf([{ line: [...by.line] }]);
  const on = createEvaluator(onlyHere(kernel), await sculptOf(mesh));
  return on.evaluate({ ...job, seams: [{ ...job.seams[0], by }] });
};

/** Three coordinates a corner, as an STL file has them. */
function soupOf(mesh: Mesh): Float32Array {
  const soup = new Float32Array(mesh.triangles.length * 3);
  mesh.triangles.forEach((v, i) => {
    soup.set(mesh.positions.subarray(v * 3, v * 3 + 3), i * 3);
  });
  return soup;
}

const soupsOf = ({ tree }: Evaluated) => tree.parts.map(({ part }) => soupOf(meshOf(part)));

describe('a sheet that lies in a wall of a block of many triangles', () => {
  const LINES: Record<string, { line: Vec3[]; counts: number[] }> = {
    'from one end': {
      counts: [1, 1],
      line: [
        [-30, -15, 0],
        [5, -15, 0],
        [5, 0, 0],
        [30, 0, 0],
      ],
    },
    'between two steps': {
      counts: [1, 2],
      line: [
        [-30, -3, 0],
        [-10, -3, 0],
        [-10, -15, 0],
        [10, -15, 0],
        [10, -3, 0],
        [30, -3, 0],
      ],
    },
    'between two steps that lean': {
      counts: [1, 2],
      line: [
        [-30, -3, 0],
        [-10, -3, 0],
        [-10.5, -15, 0],
        [10.3, -15, 0],
        [10, -3, 0],
        [30, -3, 0],
      ],
    },
  };
  for (const [where, { line, counts }] of Object.entries(LINES)) {
    for (const isBack of [false, true]) {
      it(`leaves no film of it, ${where}, walked ${isBack ? 'back' : 'on'}`, async () => {
        const mesh = block([20, 15, 12], 1);
        const by = sheetSeam(isBack ? [...line].reverse() : line, [0, 0, 1]);
        const one = await cutBy(mesh, by);
        const soups = soupsOf(one);
        expect(soups.map(unpairedEdges)).toEqual([0, 0]);
        for (const piece of soups.flatMap(pieces)) expect(soupVolume(piece)).toBeGreaterThan(1);
        expect(soups.map((soup) => pieces(soup).length)).toEqual(isBack ? [...counts].reverse() : counts);
        const { left, right } = kernelVolumes(kernel, mesh, by.line, by.along, 200);
        expect(soups.map((soup) => soupVolume(soup))).toEqual(
          [left, right].map((mm3) => expect.closeTo(mm3, 1)),
        );
      });
    }
  }
});

describe('a sheet whose corner touches the skin from within', () => {
  it('divides a ring where its faces would else share an edge', async () => {
    const line: Vec3[] = [
      [-5.778660508804023, -0.28606431325897574, -10.20931615261361],
      [-13, 1.5920408818909386e-15, -5.196152210235596],
      [5.401923656463623, -9.356406211853027, -3],
      [-14.987942695617676, -14.987942695617676, -3],
    ];
    const one = await cutBy(torus(16, 6, 24, 12), sheetSeam(line, [0, 1, 0]));
    expect(soupsOf(one).map(unpairedEdges)).toEqual([0, 0]);
  });
});

describe('a smooth line with two points in one place', () => {
  it('is refused with that, flats or not', async () => {
    const line: Vec3[] = [
      [-12, -7, 0],
      [-12, -7, 0],
      [-12, -3, 0],
      [12, -3, 0],
    ];
    const smooth = sheetSeam(line, [0, 0, -1], 'smooth');
    for (const by of [smooth, { ...smooth, flats: [{ at: line[3], widthMm: 4 }] }]) {
      await expect(cutBy(block([20, 15, 12], 0), by)).rejects.toMatchObject({
        code: 'seam-line-folds',
        facts: { is: 'doubled' },
      });
    }
  });
});
