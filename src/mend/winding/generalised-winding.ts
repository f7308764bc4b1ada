import { cornerAngle } from '../../math/solid-angle.ts';
import type { TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { DIPOLE, dipolesOf, M, momentsOf, N, REACH, S, TERMS } from './winding-moments.ts';

/**
 * The generalised winding number of triangles, sound or not: how often they go round a point, 1 inside a
 * closed outward skin and 0 outside, and something between where the skin has holes
 * (Jacobson, Kavan & Sorkine-Hornung, *Robust Inside-Outside Segmentation using Generalized Winding
 * Numbers*, ACM TOG 32(4), 2013).
 * Triangles far off are summed by the first three terms of their Taylor series, box by box
 * (Barill, Dickson, Schmidt, Levin & Jacobson, *Fast Winding Numbers for Soups and Clouds*, ACM TOG 37(4), 2018).
 */
export interface WindingTree {
  tree: TriangleTree;
  /** Corner coordinates in the tree's order, nine numbers a triangle, mm. */
  corners: Float32Array;
  /** Seven numbers a triangle, in that order: centroid, area vector, squared distance from which the dipole serves. */
  dipoles: Float32Array;
  /** `TERMS` numbers a node, laid out as `winding-moments.ts` says. */
  terms: Float32Array;
}

/** Deepest stack a walk can need: trees halve their triangles, or nearly, and both children wait. */
const STACK = 256;

export function buildWindingTree(tree: TriangleTree): WindingTree {
  const corners = cornersInOrder(tree);
  const dipoles = dipolesOf(corners);
  return { tree, corners, dipoles, terms: momentsOf(tree, corners, dipoles) };
}

function cornersInOrder({ mesh: { positions: p, triangles: t }, order }: TriangleTree): Float32Array {
  const corners = new Float32Array(order.length * 9);
  for (let i = 0, w = 0; i < order.length; i++) {
    for (let c = 0; c < 3; c++) {
      const v = t[order[i] * 3 + c] * 3;
      corners[w++] = p[v];
      corners[w++] = p[v + 1];
      corners[w++] = p[v + 2];
    }
  }
  return corners;
}

const stack = new Int32Array(STACK);
/** Nodes and triangles a walk has gathered; they grow with what is asked of them. */
let farNodes = new Int32Array(1024);
let nearTriangles = new Int32Array(1024);

/**
 * The winding number at a point, to about a hundredth; on a triangle it is either side's.
 * Gathers first and sums then: a call for each node would cost more than its sum does.
 */
export function generalisedWinding(winding: WindingTree, x: number, y: number, z: number): number {
  if (winding.tree.order.length === 0) return 0;
  const { nodes } = winding.tree;
  const terms = winding.terms;
  let farCount = 0;
  let nearCount = 0;
  let top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const node = stack[--top];
    const at = node * TERMS;
    const rx = terms[at] - x;
    const ry = terms[at + 1] - y;
    const rz = terms[at + 2] - z;
    const child = nodes[node * 3 + 2];
    if (rx * rx + ry * ry + rz * rz > terms[at + REACH]) {
      if (farCount === farNodes.length) farNodes = doubled(farNodes);
      farNodes[farCount++] = at;
    } else if (child > 0) {
      stack[top++] = child;
      stack[top++] = child + 1;
    } else {
      const first = nodes[node * 3];
      const end = first + nodes[node * 3 + 1];
      if (nearCount + end - first > nearTriangles.length) nearTriangles = doubled(nearTriangles);
      for (let i = first; i < end; i++) nearTriangles[nearCount++] = i;
    }
  }
  const angle = sumFar(terms, farCount, x, y, z) + sumNear(winding, nearCount, x, y, z);
  return angle / (4 * Math.PI);
}

function doubled(numbers: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const more = new Int32Array(numbers.length * 2);
  more.set(numbers);
  return more;
}

/**
 * Solid angle of the nodes gathered, each by three terms, r from the point to its centre:
 * N·r/r³ + (tr M)/r³ − 3 M(r,r)/r⁵ + ½ (15 S(r,r,r)/r⁷ − 9 s·r/r⁵), s being S's trace.
 */
function sumFar(terms: Float32Array, count: number, px: number, py: number, pz: number): number {
  let sum = 0;
  for (let n = 0; n < count; n++) {
    const at = farNodes[n];
    const m = at + M;
    const s = at + S;
    const x = terms[at] - px;
    const y = terms[at + 1] - py;
    const z = terms[at + 2] - pz;
    const xx = x * x;
    const yy = y * y;
    const zz = z * z;
    const reciprocal = 1 / Math.sqrt(xx + yy + zz);
    const inverse2 = reciprocal * reciprocal;
    const direct = terms[at + N] * x + terms[at + N + 1] * y + terms[at + N + 2] * z;
    const trace = terms[m] + terms[m + 1] + terms[m + 2];
    const mixed = terms[m + 3] * x * y + terms[m + 4] * x * z + terms[m + 5] * y * z;
    const quadratic = terms[m] * xx + terms[m + 1] * yy + terms[m + 2] * zz + 2 * mixed;
    const alongX = terms[s + 3] * x * y + terms[s + 4] * x * z + terms[s + 5] * yy + terms[s + 7] * zz;
    const cubic =
      x * (terms[s] * xx + 3 * alongX) +
      y * (terms[s + 1] * yy + 3 * (terms[s + 6] * y * z + terms[s + 8] * zz)) +
      z * (terms[s + 2] * zz + 6 * terms[s + 9] * x * y);
    const traces =
      x * (terms[s] + terms[s + 5] + terms[s + 7]) +
      y * (terms[s + 1] + terms[s + 3] + terms[s + 8]) +
      z * (terms[s + 2] + terms[s + 4] + terms[s + 6]);
    const third = inverse2 * (7.5 * cubic * inverse2 - 4.5 * traces);
    sum += inverse2 * reciprocal * (direct + trace - 3 * quadratic * inverse2 + third);
  }
  return sum;
}

/**
 * Solid angle of the triangles gathered: by their dipoles where these serve, else exactly, by tan(Ω/2) as
 * van Oosterom & Strackee have it (*IEEE Trans. Biomed. Eng.* BME-30(2), 1983); turned so that a closed outward
 * skin gives +4π in all. None where the point lies in the triangle's plane.
 */
function sumNear(
  { corners, dipoles }: WindingTree,
  count: number,
  px: number,
  py: number,
  pz: number,
): number {
  let sum = 0;
  for (let n = 0; n < count; n++) {
    const d = nearTriangles[n] * DIPOLE;
    const x = dipoles[d] - px;
    const y = dipoles[d + 1] - py;
    const z = dipoles[d + 2] - pz;
    const r2 = x * x + y * y + z * z;
    if (r2 > dipoles[d + 6]) {
      sum += (dipoles[d + 3] * x + dipoles[d + 4] * y + dipoles[d + 5] * z) / (r2 * Math.sqrt(r2));
      continue;
    }
    const i = nearTriangles[n] * 9;
    sum += cornerAngle(
      corners[i] - px,
      corners[i + 1] - py,
      corners[i + 2] - pz,
      corners[i + 3] - px,
      corners[i + 4] - py,
      corners[i + 5] - pz,
      corners[i + 6] - px,
      corners[i + 7] - py,
      corners[i + 8] - pz,
    );
  }
  return sum;
}
