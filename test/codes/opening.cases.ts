import type { FindingCode } from '../../src/check/finding.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { insideOut, lumpySphere } from '../support/figures.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { openedFile } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const ball = lumpySphere(3, 20);
const opened = (mesh: Mesh) => openedFile('figure.stl', writeStlBinary(mesh, [0, 0, 0]));
const withTriangles = (mesh: Mesh, ...more: number[]): Mesh => ({
  ...mesh,
  triangles: Uint32Array.from([...mesh.triangles, ...more]),
});
const without = (mesh: Mesh, count: number): Mesh => ({
  ...mesh,
  triangles: mesh.triangles.slice(0, mesh.triangles.length - count * 3),
});
/** A closed surface with one side: a tube whose ends meet the wrong way round, or (`turned` false) the right way. */
function bottle(turned: boolean): Mesh {
  const [around, along] = [12, 16];
  const at = (i: number, j: number): number => {
    const wraps = j === along;
    const turn = (((wraps && turned ? -i : i) % around) + around) % around;
    return turn * along + (j % along);
  };
  const positions: number[] = [];
  for (let i = 0; i < around; i++) {
    for (let j = 0; j < along; j++) {
      const [a, b] = [(2 * Math.PI * i) / around, (2 * Math.PI * j) / along];
      positions.push(
        (20 + 5 * Math.cos(a)) * Math.cos(b),
        (20 + 5 * Math.cos(a)) * Math.sin(b),
        5 * Math.sin(a),
      );
    }
  }
  const triangles: number[] = [];
  for (let i = 0; i < around; i++) {
    for (let j = 0; j < along; j++) {
      const [p, q, r, s] = [at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)];
      triangles.push(p, q, r, p, r, s);
    }
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const [a, b, c] = ball.triangles;
const sheet: Mesh = {
  positions: Float32Array.of(0, 0, 0, 9, 0, 0, 0, 9, 0),
  triangles: Uint32Array.of(0, 1, 2, 0, 2, 1),
};

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'open-edges', comes: opened(without(ball, ball.triangles.length / 6)), stays: opened(ball) },
  { code: 'winding-errors', comes: opened(bottle(true)), stays: opened(bottle(false)) },
  { code: 'degenerate-triangles', comes: opened(withTriangles(ball, a, a, b)), stays: opened(ball) },
  { code: 'duplicate-triangles', comes: opened(withTriangles(ball, a, b, c)), stays: opened(ball) },
  { code: 'inside-out', comes: opened(insideOut(ball)), stays: opened(ball) },
  { code: 'mended', comes: opened(without(ball, 1)), stays: opened(ball) },
  { code: 'no-volume', comes: opened(sheet), stays: opened(fanned(box([0, 0, 0], [9, 9, 1]))) },
];
