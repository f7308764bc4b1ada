import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { triangulate } from '../../src/kernel/triangulate.ts';
import { type Loop, loopArea } from '../../src/math/polygon.ts';
import { watchKernelMemory } from '../support/kernel-memory.ts';

const memory = watchKernelMemory();
let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A star-shaped loop about a point, its radius at each of `radii.length` even turns. */
const star = (radii: readonly number[], x = 0, y = 0): Loop =>
  Float64Array.from(
    radii.flatMap((r, i) => {
      const a = (2 * Math.PI * i) / radii.length;
      return [x + r * Math.cos(a), y + r * Math.sin(a)];
    }),
  );

const backwards = (loop: Loop): Loop =>
  Float64Array.from(
    Array.from({ length: loop.length / 2 }, (_, i) => [
      ...loop.subarray(loop.length - 2 - 2 * i, loop.length - 2 * i),
    ]).flat(),
  );

function triangleAreas(triangles: Uint32Array, loops: readonly Loop[]): number[] {
  const all = loops.flatMap((loop) => [...loop]);
  return Array.from({ length: triangles.length / 3 }, (_, t) => {
    const [a, b, c] = [0, 1, 2].map((k) => triangles[t * 3 + k] * 2);
    return (
      ((all[b] - all[a]) * (all[c + 1] - all[a + 1]) - (all[c] - all[a]) * (all[b + 1] - all[a + 1])) / 2
    );
  });
}

/** Directed edges that no triangle walks the other way, as "from to", sorted. */
function border(triangles: Uint32Array): string[] {
  const open = new Set<string>();
  for (let i = 0; i < triangles.length; i++) {
    const [a, b] = [triangles[i], triangles[i % 3 === 2 ? i - 2 : i + 1]];
    if (!open.delete(`${b} ${a}`)) open.add(`${a} ${b}`);
  }
  return [...open].sort();
}

function loopEdges(loops: readonly Loop[]): string[] {
  let first = 0;
  return loops
    .flatMap((loop) => {
      const n = loop.length / 2;
      const edges = Array.from({ length: n }, (_, i) => `${first + i} ${first + ((i + 1) % n)}`);
      first += n;
      return edges;
    })
    .sort();
}

const radii = (low: number, high: number) =>
  fc.array(fc.double({ min: low, max: high, noNaN: true }), { minLength: 3, maxLength: 60 });

describe('triangulate', () => {
  it('covers regions with a hole exactly and borders them by their loops, seed 41', () => {
    fc.assert(
      fc.property(radii(9, 15), radii(0.5, 4), (outer, inner) => {
        const loops = [star(outer), backwards(star(inner))];
        const triangles = triangulate(kernel, loops, 1e-4);
        const area = loops.reduce((sum, loop) => sum + loopArea(loop), 0);
        const areas = triangleAreas(triangles, loops);
        expect(triangles.length / 3).toBe(outer.length + inner.length);
        expect(border(triangles)).toEqual(loopEdges(loops));
        expect(Math.abs(areas.reduce((a, b) => a + b, 0) - area)).toBeLessThan(1e-9);
        expect(Math.min(...areas)).toBeGreaterThan(-1e-3);
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('makes no triangles of no loops', () => {
    expect(triangulate(kernel, [], 1e-4)).toEqual(new Uint32Array(0));
  });

  it('gives all its memory back: 800 calls with 400 points do not grow the kernel', () => {
    const loop = star(Array.from({ length: 400 }, (_, i) => 10 + 3 * Math.sin(i * 0.2)));
    for (let i = 0; i < 200; i++) triangulate(kernel, [loop], 1e-4);
    const before = memory.bytes();
    for (let i = 0; i < 800; i++) triangulate(kernel, [loop], 1e-4);
    expect(memory.bytes()).toBe(before);
  }, 60_000);
});
