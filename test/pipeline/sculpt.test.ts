import bunny from 'bunny';
import { describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { openSculpt, requireSolid, type Sculpt } from '../../src/pipeline/sculpt.ts';
import type { Step } from '../../src/progress.ts';
import { asSource, obj } from '../support/mesh-files.ts';
import { box, cornersOf, fanned, moved, plainVolume, together } from '../support/simple-solids.ts';

const asIs = { unit: 'mm', scale: 1 } as const;
const cube = fanned(box([0, 0, 0], [2, 2, 2]));

/** Writes a mesh, triangles changed at will, and opens it again. */
function open(mesh: Mesh, change: (triangles: number[]) => number[] = (t) => t): Promise<Sculpt> {
  const triangles = Uint32Array.from(change(Array.from(mesh.triangles)));
  const file = writeStlBinary({ positions: mesh.positions, triangles }, [0, 0, 0]);
  return openSculpt(asSource('cube.stl', file), asIs);
}

/** Edges by how many triangles use them. */
function edgeUses(triangles: ArrayLike<number>): Map<string, number> {
  const uses = new Map<string, number>();
  for (let i = 0; i < triangles.length; i++) {
    const [a, b] = [triangles[i], triangles[i % 3 === 2 ? i - 2 : i + 1]];
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    uses.set(key, (uses.get(key) ?? 0) + 1);
  }
  return uses;
}

describe('opening a sculpt', () => {
  it('finds a cube solid and nothing to say about it', async () => {
    const sculpt = await open(cube);
    expect(sculpt).toMatchObject({
      file: 'cube.stl',
      format: 'stl',
      solid: true,
      findings: [],
      repairs: [],
      volumeMm3: 8,
      areaMm2: 24,
      boundsMm: { min: [0, 0, 0], max: [2, 2, 2] },
    });
    expect(sculpt.read).toEqual({
      triangles: 12,
      vertices: 8,
      shells: 1,
      openEdges: 0,
      nonManifoldEdges: 0,
      windingErrors: 0,
      degenerateTriangles: 0,
      duplicateTriangles: 0,
    });
    expect(() => requireSolid(sculpt)).not.toThrow();
  });

  it('gives the bunny the edges, volume and bounds that plain sums give it', async () => {
    const mesh: Mesh = {
      positions: Float32Array.from(bunny.positions.flat()),
      triangles: Uint32Array.from(bunny.cells.flat()),
    };
    const sculpt = await openSculpt(asSource('bunny.stl', writeStlBinary(mesh, [0, 0, 0])), asIs);
    const uses = [...edgeUses(mesh.triangles).values()];
    expect(sculpt.read.triangles).toBe(bunny.cells.length);
    expect(sculpt.read.openEdges).toBe(uses.filter((n) => n === 1).length);
    expect(sculpt.read.nonManifoldEdges).toBe(uses.filter((n) => n > 2).length);
    expect(sculpt.solid).toBe(uses.every((n) => n === 2));
    expect(Math.abs(sculpt.volumeMm3 / plainVolume(mesh) - 1)).toBeLessThan(1e-12);
    for (const k of [0, 1, 2]) {
      const axis = mesh.positions.filter((_, i) => i % 3 === k);
      expect(sculpt.boundsMm.min[k]).toBe(Math.min(...axis));
      expect(sculpt.boundsMm.max[k]).toBe(Math.max(...axis));
    }
  });

  it('says where a hole is, in the file’s coordinates, and is refused for cutting', async () => {
    const far = moved(cube, [5000, 0, 0]);
    const sculpt = await open(far, (t) => t.slice(3));
    expect(sculpt.originMm[0]).not.toBe(0);
    expect(sculpt.solid).toBe(false);
    expect(sculpt.findings).toMatchObject([{ code: 'open-edges', severity: 'error', facts: { count: 3 } }]);
    const at = sculpt.findings[0].at ?? [0, 0, 0];
    expect(at[0]).toBeGreaterThanOrEqual(5000);
    expect(() => requireSolid(sculpt)).toThrow(
      expect.objectContaining({
        code: 'mesh-not-closed',
        facts: expect.objectContaining({ openEdges: 3, at }),
      }),
    );
  });

  it('counts faults as read, mends what can be mended and is solid then', async () => {
    const sculpt = await open(cube, (t) => [...t, ...t.slice(0, 3), 4, 4, 5]);
    expect(sculpt.read).toMatchObject({
      triangles: 14,
      degenerateTriangles: 1,
      duplicateTriangles: 1,
      nonManifoldEdges: 3,
    });
    expect(sculpt.audit).toMatchObject({
      degenerateTriangles: 0,
      duplicateTriangles: 0,
      nonManifoldEdges: 0,
    });
    expect(sculpt.solid).toBe(true);
    expect(sculpt.findings.map(({ code, severity }) => `${severity} ${code}`)).toEqual([
      'info degenerate-triangles',
      'info duplicate-triangles',
    ]);
    expect(cornersOf(sculpt.mesh)).toEqual(cornersOf(cube));
  });

  it('turns a cube that is inside out', async () => {
    const sculpt = await open(cube, (t) => t.map((_, i) => t[i - (i % 3) + [0, 2, 1][i % 3]]));
    expect(sculpt).toMatchObject({
      solid: true,
      volumeMm3: 8,
      repairs: [{ code: 'turned-outward', count: 12 }],
    });
    expect(sculpt.findings).toMatchObject([
      { code: 'inside-out', severity: 'info', facts: { volumeMm3: -8 } },
    ]);
  });

  it('refuses a sheet doubled onto itself for want of volume', async () => {
    const sheet = { positions: cube.positions, triangles: Uint32Array.of(0, 1, 2, 0, 2, 1) };
    const sculpt = await open(sheet);
    expect(sculpt.findings).toMatchObject([{ code: 'no-volume', severity: 'error' }]);
    expect(() => requireSolid(sculpt)).toThrow(expect.objectContaining({ code: 'mesh-no-volume' }));
  });

  it('reports welded corners only where a format could have shared them', async () => {
    const { vertices, faces } = box([0, 0, 0], [2, 2, 2]);
    const split = {
      vertices: [...vertices, ...vertices],
      faces: faces.map((f, i) => f.map((v) => (i < 3 ? v : v + 8))),
    };
    const sculpt = await openSculpt(asSource('a.obj', obj(split)), asIs);
    expect(sculpt.repairs).toEqual([{ code: 'vertices-welded', count: 8 }]);
    expect(sculpt.solid).toBe(true);
  });

  it('numbers shells and tells its steps in order', async () => {
    const steps: Step[] = [];
    const two = together(cube, moved(cube, [9, 0, 0]));
    const source = asSource('two.stl', writeStlBinary(two, [0, 0, 0]));
    const sculpt = await openSculpt(source, { ...asIs, onProgress: (step) => steps.push(step) });
    expect(sculpt.audit.shellCount).toBe(2);
    expect([...new Set(steps)]).toEqual(['reading', 'welding', 'auditing']);
  });
});
