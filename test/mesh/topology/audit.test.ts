import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { auditMesh, isClosed, NO_SHELL } from '../../../src/mesh/topology/audit.ts';
import { countEdges, edgeFans } from '../../../src/mesh/topology/edges.ts';
import { newShells } from '../../../src/mesh/topology/shells.ts';
import { weld } from '../../../src/mesh/topology/weld.ts';
import { countedReads } from '../../support/counted-reads.ts';
import { box, fanned, moved, together, torus } from '../../support/simple-solids.ts';

const cube = fanned(box([0, 0, 0], [1, 1, 1]));
const withTriangles = (mesh: Mesh, triangles: ArrayLike<number>): Mesh => ({
  positions: mesh.positions,
  triangles: Uint32Array.from(triangles),
});

/** Edge counts and shells the plain way. */
function auditByMap({ triangles: t }: Mesh) {
  const edges = new Map<string, { triangle: number; forward: boolean }[]>();
  const sound: number[] = [];
  for (let i = 0; i < t.length; i += 3) {
    const corners = Array.from(t.subarray(i, i + 3));
    if (new Set(corners).size < 3) continue;
    sound.push(i / 3);
    corners.forEach((a, k) => {
      const b = corners[(k + 1) % 3];
      const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
      edges.set(key, [...(edges.get(key) ?? []), { triangle: i / 3, forward: a < b }]);
    });
  }
  const groups = [...edges.values()];
  const shell = new Map(sound.map((triangle) => [triangle, triangle]));
  for (let changed = true; changed; ) {
    changed = false;
    for (const group of groups) {
      const least = Math.min(...group.map(({ triangle }) => shell.get(triangle) ?? -1));
      for (const { triangle } of group) {
        if (shell.get(triangle) !== least) changed = true;
        shell.set(triangle, least);
      }
    }
  }
  const turns = sound.map((i) => {
    const c = Array.from(t.subarray(i * 3, i * 3 + 3));
    const k = c.indexOf(Math.min(...c));
    return `${c[k]} ${c[(k + 1) % 3]} ${c[(k + 2) % 3]}`;
  });
  return {
    openEdges: groups.filter((g) => g.length === 1).length,
    nonManifoldEdges: groups.filter((g) => g.length > 2).length,
    windingErrors: groups.filter((g) => g.length === 2 && g[0].forward === g[1].forward).length,
    duplicateTriangles: turns.length - new Set(turns).size,
    shellCount: new Set(shell.values()).size,
  };
}

describe('audit', () => {
  it('agrees with maps of edges and corners on triangles at random, seed 23', () => {
    const corner = fc.nat(7);
    const triangles = fc.array(fc.tuple(corner, corner, corner), { maxLength: 40 });
    fc.assert(
      fc.property(triangles, (list) => {
        const mesh = withTriangles(cube, list.flat());
        expect(auditMesh(mesh)).toMatchObject(auditByMap(mesh));
      }),
      { seed: 23, numRuns: 500 },
    );
  });

  it('finds nothing wrong with a cube', () => {
    const audit = auditMesh(cube);
    expect(isClosed(audit)).toBe(true);
    expect(audit).toMatchObject({
      degenerateTriangles: 0,
      duplicateTriangles: 0,
      shellCount: 1,
      firstDefectAt: null,
    });
  });

  it('counts the three open edges round a triangle taken away, and says where', () => {
    const audit = auditMesh(withTriangles(cube, cube.triangles.subarray(3)));
    expect(audit).toMatchObject({ openEdges: 3, nonManifoldEdges: 0, windingErrors: 0 });
    expect(isClosed(audit)).toBe(false);
    const [a, b, c] = cube.triangles;
    const middles = [
      [a, b],
      [b, c],
      [c, a],
    ].map(([i, j]) => [0, 1, 2].map((k) => (cube.positions[i * 3 + k] + cube.positions[j * 3 + k]) / 2));
    expect(middles).toContainEqual(audit.firstDefectAt);
  });

  it('counts the three mis-wound edges round a turned triangle', () => {
    const [a, b, c, ...rest] = cube.triangles;
    expect(auditMesh(withTriangles(cube, [a, c, b, ...rest]))).toMatchObject({
      openEdges: 0,
      nonManifoldEdges: 0,
      windingErrors: 3,
    });
  });

  it('calls the edge on which two cubes meet non-manifold, and them one shell', () => {
    const two = weld(together(cube, moved(cube, [1, 1, 0]))).mesh;
    expect(auditMesh(two)).toMatchObject({
      openEdges: 0,
      nonManifoldEdges: 1,
      windingErrors: 0,
      shellCount: 1,
    });
  });

  it('numbers shells by their first triangle; cubes that meet in a corner are two', () => {
    const two = weld(together(cube, moved(cube, [1, 1, 1]), moved(cube, [5, 0, 0]))).mesh;
    const audit = auditMesh(two);
    expect(isClosed(audit)).toBe(true);
    expect(Array.from(audit.shellOf)).toEqual([0, 1, 2].flatMap((shell) => Array(12).fill(shell)));
  });

  it('tells pointed triangles from flat ones', () => {
    // A cube whose first edge has a needle let in: corners 0, 1 and a point between them.
    const positions = Float32Array.of(...cube.positions, 0.5, 0, 0);
    const mesh = { positions, triangles: Uint32Array.of(0, 8, 1, ...cube.triangles, 4, 4, 5) };
    const audit = auditMesh(mesh);
    expect(audit).toMatchObject({ degenerateTriangles: 2, flatTriangles: 1, shellCount: 1 });
    expect(Array.from(audit.pointedTriangles)).toEqual([13]);
    expect(audit.shellOf[13]).toBe(NO_SHELL);
  });

  it('knows a doubled triangle from one laid on its back', () => {
    const [a, b, c] = cube.triangles;
    const doubled = auditMesh(withTriangles(cube, [...cube.triangles, b, c, a]));
    expect(Array.from(doubled.duplicates)).toEqual([12]);
    expect(doubled.nonManifoldEdges).toBe(3);
    expect(auditMesh(withTriangles(cube, [...cube.triangles, a, c, b])).duplicateTriangles).toBe(0);
  });

  /** Two vertices of so many spokes each, one above the other. */
  function spokes(n: number): Mesh {
    const positions = new Float32Array((n + 2) * 3);
    const triangles = new Uint32Array(n * 6);
    positions.set([0, 0, 1, 0, 0, -1]);
    for (let i = 0; i < n; i++) {
      const a = (2 * Math.PI * i) / n;
      positions.set([Math.cos(a), Math.sin(a), 0], (i + 2) * 3);
      const next = ((i + 1) % n) + 2;
      triangles.set([0, i + 2, next, 1, next, i + 2], i * 6);
    }
    return { positions, triangles };
  }

  it('takes a vertex of 200,000 spokes as it takes any other', () => {
    const audit = auditMesh(spokes(200_000));
    expect(isClosed(audit)).toBe(true);
    expect(audit.shellCount).toBe(1);
  });

  it('looks at each triangle as often, however many spokes its vertex has', () => {
    const looksEach = (n: number) => {
      const mesh = spokes(n);
      const { starts, far, who } = edgeFans(mesh);
      const [counted, ...others] = [far, who, newShells(2 * n)].map(countedReads);
      const [whose, shells] = others.map(({ array }) => array);
      const edges = countEdges(mesh, { starts, far: counted.array, who: whose }, shells, null);
      expect(edges).toMatchObject({ open: 0, nonManifold: 0, misWound: 0 });
      return [counted, ...others].reduce((sum, { reads }) => sum + reads(), 0) / (2 * n);
    };
    expect(looksEach(4_000) / looksEach(1_000)).toBeLessThan(1.1);
  });

  it('finds a torus closed with V − E + F = 0', () => {
    const mesh = torus(40, 10, 30, 20);
    expect(isClosed(auditMesh(mesh))).toBe(true);
    const [v, f] = [mesh.positions.length / 3, mesh.triangles.length / 3];
    expect(v - (f * 3) / 2 + f).toBe(0);
  });
});
