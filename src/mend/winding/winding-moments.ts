import type { TriangleTree } from '../../mesh/near/triangle-tree.ts';

/**
 * What the series of the winding number needs of every node of a triangle tree, `TERMS` numbers each:
 * the centre c of its area; the squared distance from which the series serves; with d = x − c and a the area vector,
 * N = ∫ da, the symmetric part of M = ∫ d ⊗ da, the symmetric part of S = ∫ d ⊗ d ⊗ da; radius of a ball about the
 * centre that holds it; area. Singles, so that a node takes a line and a half of cache.
 */
export const TERMS = 25;
/** Offsets of those numbers. */
export const REACH = 3;
export const N = 4;
/** xx, yy, zz, xy, xz, yz. */
export const M = 7;
/** xxx, yyy, zzz, xxy, xxz, xyy, yyz, xzz, yzz, xyz. */
export const S = 13;
const RADIUS = 23;
const AREA = 24;

/** Axes of M's and S's numbers. */
const PAIRS = [0, 0, 1, 1, 2, 2, 0, 1, 0, 2, 1, 2];
const TRIPLES = [0, 0, 0, 1, 1, 1, 2, 2, 2, 0, 0, 1, 0, 0, 2, 0, 1, 1, 1, 1, 2, 0, 2, 2, 1, 2, 2, 0, 1, 2];
/** Place among M's numbers of each pair of axes, `3 × first + second`. */
const PAIR_AT = [0, 3, 4, 3, 1, 5, 4, 5, 2];

/** The series serves from this many radii on: the published advice. */
const FAR = 2;

/** Numbers a triangle: centroid, area vector, squared distance from which those alone serve. */
export const DIPOLE = 7;

export function dipolesOf(corners: Float32Array): Float32Array {
  const dipoles = new Float32Array((corners.length / 9) * DIPOLE);
  for (let i = 0, w = 0; i < corners.length; i += 9, w += DIPOLE) {
    let squared = 0;
    for (let k = 0; k < 3; k++) {
      const u = (k + 1) % 3;
      const v = (k + 2) % 3;
      dipoles[w + k] = (corners[i + k] + corners[i + 3 + k] + corners[i + 6 + k]) / 3;
      dipoles[w + 3 + k] =
        ((corners[i + 3 + u] - corners[i + u]) * (corners[i + 6 + v] - corners[i + v]) -
          (corners[i + 3 + v] - corners[i + v]) * (corners[i + 6 + u] - corners[i + u])) /
        2;
    }
    for (let c = i; c < i + 9; c += 3) {
      const d2 =
        (corners[c] - dipoles[w]) ** 2 +
        (corners[c + 1] - dipoles[w + 1]) ** 2 +
        (corners[c + 2] - dipoles[w + 2]) ** 2;
      if (d2 > squared) squared = d2;
    }
    dipoles[w + 6] = FAR * FAR * squared;
  }
  return dipoles;
}

/** @param corners of the triangles in the tree's order, nine numbers each. */
export function momentsOf(tree: TriangleTree, corners: Float32Array, dipoles: Float32Array): Float32Array {
  const nodes = tree.nodes;
  const nodeCount = nodes.length / 3;
  const terms = new Float32Array(nodeCount * TERMS);
  // Children stand behind their parents.
  for (let node = nodeCount - 1; node >= 0; node--) {
    const child = nodes[node * 3 + 2];
    if (child > 0) {
      setCentre(terms, node, child);
      addChild(terms, node, child);
      addChild(terms, node, child + 1);
    } else setLeaf(terms, node, nodes[node * 3], nodes[node * 3 + 1], corners, dipoles);
    setReach(tree, terms, node);
  }
  return terms;
}

/** Area and its centre, from a node's two children. */
function setCentre(terms: Float32Array, node: number, child: number): void {
  const at = node * TERMS;
  const a = child * TERMS;
  const b = a + TERMS;
  const area = terms[a + AREA] + terms[b + AREA];
  const share = area > 0 ? terms[a + AREA] / area : 0.5;
  terms[at + AREA] = area;
  for (let k = 0; k < 3; k++) terms[at + k] = terms[a + k] * share + terms[b + k] * (1 - share);
}

const shift = new Float64Array(3);

/**
 * Adds a child's integrals about the node's centre. With s from that centre to the child's, symmetric parts understood,
 * M becomes M + s ⊗ N and S becomes S + 2 s ⊗ M + s ⊗ s ⊗ N.
 */
function addChild(terms: Float32Array, node: number, child: number): void {
  const at = node * TERMS;
  const from = child * TERMS;
  for (let k = 0; k < 3; k++) shift[k] = terms[from + k] - terms[at + k];
  for (let q = 0; q < 10; q++) {
    const i = TRIPLES[q * 3];
    const j = TRIPLES[q * 3 + 1];
    const k = TRIPLES[q * 3 + 2];
    const m =
      shift[i] * terms[from + M + PAIR_AT[3 * j + k]] +
      shift[j] * terms[from + M + PAIR_AT[3 * i + k]] +
      shift[k] * terms[from + M + PAIR_AT[3 * i + j]];
    terms[at + S + q] += terms[from + S + q] + (2 * m) / 3;
  }
  for (let q = 0; q < 6; q++) terms[at + M + q] += terms[from + M + q];
  for (let k = 0; k < 3; k++) terms[at + N + k] += terms[from + N + k];
  for (let q = 0; q < 6; q++) spread[q] = shift[PAIRS[q * 2]] * shift[PAIRS[q * 2 + 1]];
  addShifted(terms, at, terms, from + N);
}

/** Means of d ⊗ d, numbered as M's, and the middle of d in `shift`. */
const spread = new Float64Array(6);

/** Adds the symmetric parts of shift ⊗ n to M and of spread ⊗ n to S; n is at `normal` of `source`. */
function addShifted(terms: Float32Array, at: number, source: Float32Array, normal: number): void {
  for (let q = 0; q < 6; q++) {
    const i = PAIRS[q * 2];
    const j = PAIRS[q * 2 + 1];
    terms[at + M + q] += (shift[i] * source[normal + j] + shift[j] * source[normal + i]) / 2;
  }
  for (let q = 0; q < 10; q++) {
    const i = TRIPLES[q * 3];
    const j = TRIPLES[q * 3 + 1];
    const k = TRIPLES[q * 3 + 2];
    terms[at + S + q] +=
      (spread[PAIR_AT[3 * i + j]] * source[normal + k] +
        spread[PAIR_AT[3 * i + k]] * source[normal + j] +
        spread[PAIR_AT[3 * j + k]] * source[normal + i]) /
      3;
  }
}

function setLeaf(
  terms: Float32Array,
  node: number,
  first: number,
  count: number,
  corners: Float32Array,
  dipoles: Float32Array,
): void {
  const at = node * TERMS;
  let area = 0;
  for (let t = first; t < first + count; t++) {
    const d = t * DIPOLE;
    const a = Math.sqrt(dipoles[d + 3] ** 2 + dipoles[d + 4] ** 2 + dipoles[d + 5] ** 2);
    const share = area + a > 0 ? a / (area + a) : 1;
    area += a;
    for (let k = 0; k < 3; k++) {
      terms[at + k] += (dipoles[d + k] - terms[at + k]) * share;
      terms[at + N + k] += dipoles[d + 3 + k];
    }
  }
  terms[at + AREA] = area;
  for (let t = first; t < first + count; t++) {
    const d = t * DIPOLE;
    for (let k = 0; k < 3; k++) shift[k] = dipoles[d + k] - terms[at + k];
    for (let q = 0; q < 6; q++) {
      const i = PAIRS[q * 2];
      const j = PAIRS[q * 2 + 1];
      // A triangle's mean of e ⊗ e about its centroid is a twelfth of the sum over its corners.
      let own = 0;
      for (let c = t * 9; c < t * 9 + 9; c += 3) {
        own += (corners[c + i] - dipoles[d + i]) * (corners[c + j] - dipoles[d + j]);
      }
      spread[q] = shift[i] * shift[j] + own / 12;
    }
    addShifted(terms, at, dipoles, d + 3);
  }
}

/** A node's ball: about its centre to the farthest corner of its box, or round its children's where that is less. */
function setReach({ boxes, nodes }: TriangleTree, terms: Float32Array, node: number): void {
  const at = node * TERMS;
  let squared = 0;
  for (let k = 0; k < 3; k++) {
    const far = Math.max(terms[at + k] - boxes[node * 6 + k], boxes[node * 6 + 3 + k] - terms[at + k]);
    squared += far * far;
  }
  let radius = Math.sqrt(squared);
  const child = nodes[node * 3 + 2];
  if (child > 0) {
    radius = Math.min(radius, Math.max(ballAround(terms, at, child), ballAround(terms, at, child + 1)));
  }
  terms[at + RADIUS] = radius;
  terms[at + REACH] = (FAR * radius) ** 2;
}

function ballAround(terms: Float32Array, at: number, child: number): number {
  const c = child * TERMS;
  const d = Math.hypot(terms[at] - terms[c], terms[at + 1] - terms[c + 1], terms[at + 2] - terms[c + 2]);
  return d + terms[c + RADIUS];
}
