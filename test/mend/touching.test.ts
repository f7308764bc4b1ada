import { describe, expect, it } from 'vitest';
import { weldBodies } from '../../src/mend/bodies.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { isClosed } from '../../src/mesh/topology/audit.ts';
import { type Mended, mendFigure } from '../../src/pipeline/mend-step.ts';
import { soupOf } from '../support/damage.ts';
import { insideOut, lumpySphere, nestedBalls } from '../support/figures.ts';
import { box, fanned, moved, plainVolume, together } from '../support/simple-solids.ts';
import { pick, triangleKeys } from '../support/stl-bytes.ts';

const cube = fanned(box([0, 0, 0], [2, 2, 2]));

/** Welds and mends as opening does; `counts` are the triangles of declared bodies. */
async function mend(mesh: Mesh, counts?: number[]): Promise<Mended> {
  const declared = counts?.map((triangleCount, i) => ({ name: `body ${i + 1}`, triangleCount }));
  const welded = weldBodies(mesh, declared).mesh;
  return mendFigure(welded, declared, []);
}

/** Volume of every shell, in order. */
function shellVolumes({ mesh, audit }: Mended): number[] {
  return Array.from({ length: audit.shellCount }, (_, shell) =>
    plainVolume({
      positions: mesh.positions,
      triangles: mesh.triangles.filter((_, i) => audit.shellOf[Math.floor(i / 3)] === shell),
    }),
  );
}

const TOUCHING: [what: string, by: [number, number, number], edges: number][] = [
  ['a face, divided alike', [0, 0, 2], 5],
  ['a face, divided otherwise', [2, 0, 0], 4],
  ['an edge', [2, 2, 0], 1],
  ['a corner', [2, 2, 2], 0],
];

describe('two bodies that touch', () => {
  for (const [what, by, edges] of TOUCHING) {
    for (const declared of [true, false]) {
      it(`along ${what} stay two, ${declared ? 'declared' : 'undeclared'}`, async () => {
        const both = together(cube, moved(cube, by));
        const mended = await mend(both, declared ? [12, 12] : undefined);
        expect(isClosed(mended.audit)).toBe(true);
        expect(shellVolumes(mended)).toEqual([8, 8]);
        expect(triangleKeys(soupOf(mended.mesh))).toEqual(triangleKeys(soupOf(both)));
        const split = mended.repairs.find(({ code }) => code === 'edges-split')?.count ?? 0;
        expect(split).toBe(declared ? 0 : edges);
        expect(mended.bodies).toEqual(
          declared
            ? [
                { name: 'body 1', triangleCount: 12 },
                { name: 'body 2', triangleCount: 12 },
              ]
            : [{ name: '', triangleCount: 24 }],
        );
      });
    }
  }

  it('stay two where one of them is inside out, declared', async () => {
    const mended = await mend(together(cube, insideOut(moved(cube, [2, 0, 0]))), [12, 12]);
    expect(shellVolumes(mended)).toEqual([8, 8]);
    expect(mended.repairs).toEqual([{ code: 'turned-outward', count: 12 }]);
  });

  it('all come apart where four meet along one edge and eight in one corner', async () => {
    const eight = [0, 2].flatMap((x) => [0, 2].flatMap((y) => [0, 2].map((z) => moved(cube, [x, y, z]))));
    const mended = await mend(together(...eight));
    expect(isClosed(mended.audit)).toBe(true);
    expect(shellVolumes(mended)).toEqual(Array(8).fill(8));
  });

  it('come apart along an edge that hangs together at both ends', async () => {
    // Two blocks that meet in an upright edge, between two slabs of four: skins of blocks, no wall between any two.
    const filled = (x: number, y: number, z: number) =>
      [x, y].every((v) => v === 0 || v === 1) && (z === 0 || z === 2 || (z === 1 && x === y));
    const quads: number[] = [];
    const { faces, vertices } = box([0, 0, 0], [1, 1, 1]);
    const towards = [
      [0, 0, -1],
      [0, 0, 1],
      [0, -1, 0],
      [1, 0, 0],
      [0, 1, 0],
      [-1, 0, 0],
    ]; // As the box lists its faces.
    for (const [x, y, z] of [0, 1].flatMap((i) => [0, 1].flatMap((j) => [0, 1, 2].map((k) => [i, j, k])))) {
      if (!filled(x, y, z)) continue;
      faces.forEach((face, f) => {
        const [dx, dy, dz] = towards[f];
        if (filled(x + dx, y + dy, z + dz)) return;
        const corner = (c: number) => vertices[face[c]].map((v, k) => v + [x, y, z][k]);
        for (const c of [0, 1, 2, 0, 2, 3]) quads.push(...corner(c));
      });
    }
    const skin = Float32Array.from(quads);
    const mended = await mend({
      positions: skin,
      triangles: Uint32Array.from({ length: skin.length / 3 }, (_, i) => i),
    });
    expect(isClosed(mended.audit)).toBe(true);
    expect(plainVolume(mended.mesh)).toBeCloseTo(10, 10);
    expect(mended.repairs).toMatchObject([{ code: 'edges-split', count: 1 }]);
  });

  it('are mended each by itself: a body keeps its runs while triangles go', async () => {
    const dirty = { ...cube, triangles: Uint32Array.of(...cube.triangles, 3, 3, 5) };
    const mended = await mend(together(dirty, moved(cube, [2, 0, 0])), [13, 12]);
    expect(mended.bodies.map(({ triangleCount }) => triangleCount)).toEqual([12, 12]);
    expect(mended.repairs).toEqual([{ code: 'degenerate-dropped', count: 1 }]);
    expect(shellVolumes(mended)).toEqual([8, 8]);
  });
});

describe('shells within shells', () => {
  const balls = nestedBalls(6);

  it('stay as they are where the file winds them well', async () => {
    const mended = await mend(balls);
    expect(mended.repairs).toEqual([]);
    expect(mended.mesh.triangles).toEqual(weldBodies(balls, undefined).mesh.triangles);
    expect(shellVolumes(mended).map(Math.sign)).toEqual([1, -1, 1]);
  });

  it('keep their hollow when all is inside out', async () => {
    const mended = await mend(insideOut(balls));
    expect(shellVolumes(mended).map(Math.sign)).toEqual([1, -1, 1]);
    expect(Math.abs(plainVolume(mended.mesh) / plainVolume(balls) - 1)).toBeLessThan(1e-12);
  });

  it('keep a body within a body, and turn what would be less than nothing', async () => {
    const [outer, inner] = [lumpySphere(2, 20, 2, 0.1), lumpySphere(3, 8, 2, 0.1)];
    expect(shellVolumes(await mend(together(outer, inner))).map(Math.sign)).toEqual([1, 1]);
    const hollowInHollow = together(outer, insideOut(lumpySphere(4, 14, 2, 0.1)), insideOut(inner));
    const mended = await mend(hollowInHollow);
    expect(shellVolumes(mended).map(Math.sign)).toEqual([1, -1, 1]);
    expect(mended.repairs).toEqual([{ code: 'turned-outward', count: inner.triangles.length / 3 }]);
  });

  it('turn one by one beside each other', async () => {
    const mended = await mend(together(cube, insideOut(moved(cube, [5, 0, 0])), moved(cube, [9, 0, 0])));
    expect(shellVolumes(mended)).toEqual([8, 8, 8]);
    expect(mended.repairs).toEqual([{ code: 'turned-outward', count: 12 }]);
  });
});

describe('a surface with more than a surface should have', () => {
  it('loses single triangles laid back to back', async () => {
    const ball = lumpySphere(8, 10, 2);
    const back = pick(soupOf(insideOut(ball)), (t) => t % 40 === 0);
    const loose = { positions: back, triangles: Uint32Array.from({ length: back.length / 3 }, (_, i) => i) };
    const mended = await mend(together(ball, loose));
    expect(isClosed(mended.audit)).toBe(true);
    expect(triangleKeys(soupOf(mended.mesh))).toEqual(triangleKeys(soupOf(ball)));
    expect(mended.repairs.map(({ code, count }) => [code, count])).toEqual([['doubled-skin-dropped', 8]]);
  });

  it('keeps a fin by itself, and the body closed', async () => {
    const fin = {
      positions: Float32Array.of(0, 0, 0, 2, 0, 0, 1, -3, -3),
      triangles: Uint32Array.of(0, 1, 2),
    };
    const mended = await mend(together(fin, cube));
    expect(mended.audit).toMatchObject({ openEdges: 3, nonManifoldEdges: 0, shellCount: 2 });
    expect(shellVolumes(mended)[1]).toBe(8);
  });

  it('folded onto itself as a sheet stays a sheet without volume', async () => {
    const sheet = together({ ...cube, triangles: Uint32Array.of(0, 1, 3, 0, 3, 2, 0, 3, 1, 0, 2, 3) });
    const mended = await mend(sheet);
    expect(isClosed(mended.audit)).toBe(true);
    expect(plainVolume(mended.mesh)).toBe(0);
  });
});
