import type { Mesh } from '../../mesh/mesh.ts';
import { forEachNear } from '../../mesh/near/near-triangles.ts';
import { buildTriangleTree, type TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { MEND_TUNING } from '../tuning.ts';
import { type Three, trianglesCross } from './crossing.ts';

export interface Crossings {
  /** Numbers of triangles that cross (see `trianglesCross`), two by two. */
  pairs: number[];
  /** False where time ran out first. */
  complete: boolean;
}

/** Triangles looked at between two looks at the clock. */
const BETWEEN_CLOCKS = 256;

/** Finds every pair of triangles that cross, by a tree of boxes, for `budgetMs` at most. */
export function findCrossings(mesh: Mesh, budgetMs = Number.POSITIVE_INFINITY): Crossings {
  const end = performance.now() + budgetMs;
  const pairs: number[] = [];
  const count = mesh.triangles.length / 3;
  if (count === 0) return { pairs, complete: true };
  const tree = buildTriangleTree(mesh);
  const box = new Float64Array(6);
  const stack: number[] = [];
  for (let i = 0; i < count; i++) {
    if (i % BETWEEN_CLOCKS === 0 && performance.now() > end) return { pairs, complete: false };
    boxOf(mesh, i, box);
    collect(tree, i, box, stack, pairs);
  }
  return { pairs, complete: true };
}

/** Adds the pairs of triangle `i` with later ones. */
function collect(tree: TriangleTree, i: number, box: Float64Array, stack: number[], pairs: number[]): void {
  const { nodes, boxes, order, mesh } = tree;
  const { positions: p, triangles: t } = mesh;
  const own = offsets(t, i);
  stack.push(0);
  while (stack.length > 0) {
    const node = stack.pop() as number;
    if (boxApart(boxes, node * 6, box)) continue;
    const count = nodes[node * 3 + 1];
    if (count === 0) {
      stack.push(nodes[node * 3 + 2], nodes[node * 3 + 2] + 1);
      continue;
    }
    for (let k = nodes[node * 3]; k < nodes[node * 3] + count; k++) {
      const other = order[k];
      if (other <= i || triangleApart(p, t, other * 3, box)) continue;
      if (trianglesCross(p, own, offsets(t, other))) pairs.push(i, other);
    }
  }
}

const offsets = (t: Uint32Array, i: number): Three => [t[i * 3] * 3, t[i * 3 + 1] * 3, t[i * 3 + 2] * 3];

function boxOf({ positions: p, triangles: t }: Mesh, i: number, into: Float64Array): void {
  const [a, b, c] = offsets(t, i);
  for (let k = 0; k < 3; k++) {
    into[k] = Math.min(p[a + k], p[b + k], p[c + k]);
    into[k + 3] = Math.max(p[a + k], p[b + k], p[c + k]);
  }
}

function boxApart(boxes: Float64Array, at: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) if (boxes[at + k] > box[k + 3] || boxes[at + 3 + k] < box[k]) return true;
  return false;
}

function triangleApart(p: Float32Array, t: Uint32Array, i: number, box: Float64Array): boolean {
  const a = t[i] * 3;
  const b = t[i + 1] * 3;
  const c = t[i + 2] * 3;
  for (let k = 0; k < 3; k++) {
    if (p[a + k] < box[k] && p[b + k] < box[k] && p[c + k] < box[k]) return true;
    if (p[a + k] > box[k + 3] && p[b + k] > box[k + 3] && p[c + k] > box[k + 3]) return true;
  }
  return false;
}

/**
 * How many of the triangles from number `first` on cross another triangle of the mesh. Looks at no more than
 * `MEND_TUNING.crossingLooks` pairs, which only outlines of thousands of corners spanned by long slivers reach:
 * then it is a count of those looked at.
 */
export function countCrossing(mesh: Mesh, first: number): number {
  const { positions: p, triangles: t } = mesh;
  const box = new Float64Array(6);
  let crossing = 0;
  let looks = 0;
  for (let i = first; i < t.length / 3 && looks < MEND_TUNING.crossingLooks; i++) {
    boxOf(mesh, i, box);
    const own = offsets(t, i);
    let crosses = false;
    forEachNear(mesh, box, (at) => {
      if (crosses || at === i * 3) return;
      looks++;
      crosses = trianglesCross(p, own, offsets(t, at / 3));
    });
    if (crosses) crossing++;
  }
  return crossing;
}
