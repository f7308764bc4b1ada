import { describe, expect, test } from 'vitest';
import { flipEdges } from '../../src/demo/flip-edges.ts';
import { makeNoise } from '../../src/demo/noise.ts';
import { polygonise } from '../../src/demo/polygonise.ts';
import { settle } from '../../src/demo/settle.ts';
import { subdivide } from '../../src/demo/subdivide.ts';
import { badEdgeCount, shellFacts } from './shell-facts.ts';

const asMesh = (raw: { positions: Float64Array; triangles: Uint32Array }) => ({
  positions: Float32Array.from(raw.positions),
  triangles: raw.triangles,
});

/** Rough noise inside a ball: every corner pattern of a cell turns up, ambiguous faces included. */
const foam = (seed: number) => {
  const noise = makeNoise(seed);
  return (x: number, y: number, z: number) =>
    Math.max(Math.hypot(x, y, z) - 9, noise(x * 0.9, y * 0.9, z * 0.9) * 1.3 + 0.05);
};
const FOAM_BOX = [-9, -9, -9, 9, 9, 9] as const;

describe.each([1, 2, 3, 4, 5])('a foam from seed %i', (seed) => {
  const mesh = polygonise(foam(seed), FOAM_BOX, 0.7);

  test('closes, and holds volume', () => {
    expect(badEdgeCount(asMesh(mesh))).toBe(0);
    expect(shellFacts(asMesh(mesh)).reduce((v, s) => v + s.volumeMm3, 0)).toBeGreaterThan(100);
  });

  test('stays closed when edges are flipped and triangles split', () => {
    const split = subdivide(mesh);
    flipEdges(split);
    expect(badEdgeCount(asMesh(split))).toBe(0);
    expect(split.triangles.length).toBe(mesh.triangles.length * 4);
  });
});

describe('a ball of radius 10', () => {
  const ball = (x: number, y: number, z: number) => Math.hypot(x, y, z) - 10;
  const mesh = polygonise(ball, [-10, -10, -10, 10, 10, 10], 1);
  settle(mesh, ball, 4, 1);

  test('has its vertices on the sphere', () => {
    for (let i = 0; i < mesh.positions.length; i += 3) {
      expect(Math.abs(ball(mesh.positions[i], mesh.positions[i + 1], mesh.positions[i + 2]))).toBeLessThan(
        1e-3,
      );
    }
  });

  // A chord of length e on a sphere of radius R lies at most e²/8R under it: with e ≤ 2 mm that is 0.05 mm of 10 mm.
  test('has one shell without holes and nearly the volume of the sphere', () => {
    const [shell, ...others] = shellFacts(asMesh(mesh));
    expect(others).toEqual([]);
    expect(shell.euler).toBe(2);
    const sphere = (4 / 3) * Math.PI * 1000;
    expect(shell.volumeMm3).toBeLessThan(sphere);
    expect(shell.volumeMm3).toBeGreaterThan(sphere * (1 - 3 * 0.005));
  });
});

test('a surface that the search from block middles would miss is followed all the same', () => {
  // Ten times too steep: far blocks look even farther than they are.
  const steep = (x: number, y: number, z: number) => 10 * (Math.hypot(x, y, z / 4) - 2);
  const mesh = asMesh(polygonise(steep, [-2, -2, -8, 2, 2, 8], 0.25));
  expect(badEdgeCount(mesh)).toBe(0);
  expect(shellFacts(mesh).map((s) => s.euler)).toEqual([2]);
});
