import type { TriangleTree } from '../mesh/triangle-tree.ts';

/**
 * The generalised winding number of triangles, sound or not: how often they go round a point, 1 inside a
 * closed outward skin and 0 outside, and something between where the skin has holes
 * (Jacobson, Kavan & Sorkine-Hornung, *Robust Inside-Outside Segmentation using Generalized Winding
 * Numbers*, ACM TOG 32(4), 2013).
 * Triangles far off are summed by the first two terms of their Taylor series, box by box
 * (Barill, Dickson, Schmidt, Levin & Jacobson, *Fast Winding Numbers for Soups and Clouds*, ACM TOG 37(4), 2018).
 */
export interface WindingTree {
  tree: TriangleTree;
  /** Corner coordinates in the tree's order, nine numbers a triangle, mm. */
  corners: Float32Array;
  /** Seven numbers a triangle, in that order: centroid, area vector, squared distance from which the dipole serves. */
  dipoles: Float32Array;
  /** `TERMS` numbers a node, laid out as the offsets below say. */
  terms: Float32Array;
}

/**
 * A node's numbers: centre of its area (3); squared distance from which the series serves (1); N = Σ area
 * vectors (3); the symmetric part of M = Σ (centroid − centre) ⊗ area vector, as xx, yy, zz, xy, xz, yz (6);
 * radius of a ball about the centre that holds the node (1); area (1); and one to spare, so that a node
 * fills a line of cache.
 */
const TERMS = 16;
const REACH = 3;
const N = 4;
const M = 7;
const RADIUS = 13;
const AREA = 14;

/** The series serves from this many radii on: the published advice. */
const FAR = 2;
/** Deepest stack a walk can need: trees halve their triangles, or nearly, and both children wait. */
const STACK = 256;

export function buildWindingTree(tree: TriangleTree): WindingTree {
  const corners = cornersInOrder(tree);
  const nodeCount = tree.nodes.length / 3;
  const dipoles = dipolesOf(corners);
  const terms = new Float32Array(nodeCount * TERMS);
  // Children stand behind their parents.
  for (let node = nodeCount - 1; node >= 0; node--) {
    const child = tree.nodes[node * 3 + 2];
    if (child > 0) {
      addCentre(terms, node, child);
      addChildTerms(terms, node, child);
      addChildTerms(terms, node, child + 1);
    } else setLeafTerms(tree, dipoles, terms, node);
    setReach(tree, terms, node);
  }
  return { tree, corners, dipoles, terms };
}

function dipolesOf(corners: Float32Array): Float32Array {
  const dipoles = new Float32Array((corners.length / 9) * 7);
  for (let i = 0, w = 0; i < corners.length; i += 9, w += 7) {
    let squared = 0;
    const area = areaVector(corners, i);
    for (let k = 0; k < 3; k++) {
      const middle = (corners[i + k] + corners[i + 3 + k] + corners[i + 6 + k]) / 3;
      dipoles[w + k] = middle;
      dipoles[w + 3 + k] = area[k];
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

const areaScratch = new Float64Array(3);

/** A triangle's area vector, mm²; read it before calling again. */
function areaVector(corners: Float32Array, i: number): Float64Array {
  const ux = corners[i + 3] - corners[i];
  const uy = corners[i + 4] - corners[i + 1];
  const uz = corners[i + 5] - corners[i + 2];
  const vx = corners[i + 6] - corners[i];
  const vy = corners[i + 7] - corners[i + 1];
  const vz = corners[i + 8] - corners[i + 2];
  areaScratch[0] = (uy * vz - uz * vy) / 2;
  areaScratch[1] = (uz * vx - ux * vz) / 2;
  areaScratch[2] = (ux * vy - uy * vx) / 2;
  return areaScratch;
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

/** Area and its centre, from a node's two children. */
function addCentre(terms: Float32Array, node: number, child: number): void {
  const at = node * TERMS;
  const a = child * TERMS;
  const b = a + TERMS;
  const area = terms[a + AREA] + terms[b + AREA];
  const share = area > 0 ? terms[a + AREA] / area : 0.5;
  terms[at + AREA] = area;
  for (let k = 0; k < 3; k++) terms[at + k] = terms[a + k] * share + terms[b + k] * (1 - share);
}

/** Adds a child's N, and its M moved to the node's centre: M + (c_child − c) ⊗ N. */
function addChildTerms(terms: Float32Array, node: number, child: number): void {
  const at = node * TERMS;
  const from = child * TERMS;
  for (let k = N; k < RADIUS; k++) terms[at + k] += terms[from + k];
  addOuter(
    terms,
    at,
    terms[from] - terms[at],
    terms[from + 1] - terms[at + 1],
    terms[from + 2] - terms[at + 2],
    terms[from + N],
    terms[from + N + 1],
    terms[from + N + 2],
  );
}

/** Adds the symmetric part of d ⊗ n to the M at `at`. */
function addOuter(
  terms: Float32Array,
  at: number,
  dx: number,
  dy: number,
  dz: number,
  nx: number,
  ny: number,
  nz: number,
): void {
  const m = at + M;
  terms[m] += dx * nx;
  terms[m + 1] += dy * ny;
  terms[m + 2] += dz * nz;
  terms[m + 3] += (dx * ny + dy * nx) / 2;
  terms[m + 4] += (dx * nz + dz * nx) / 2;
  terms[m + 5] += (dy * nz + dz * ny) / 2;
}

/** A leaf's terms, from its triangles' dipoles; a triangle's own M about its centroid is zero. */
function setLeafTerms({ nodes }: TriangleTree, dipoles: Float32Array, terms: Float32Array, node: number) {
  const at = node * TERMS;
  const from = nodes[node * 3] * 7;
  const to = from + nodes[node * 3 + 1] * 7;
  let area = 0;
  for (let i = from; i < to; i += 7) {
    const a = Math.sqrt(dipoles[i + 3] ** 2 + dipoles[i + 4] ** 2 + dipoles[i + 5] ** 2);
    area += a;
    for (let k = 0; k < 3; k++) {
      terms[at + k] += a * dipoles[i + k];
      terms[at + N + k] += dipoles[i + 3 + k];
    }
  }
  for (let k = 0; k < 3; k++) terms[at + k] = area > 0 ? terms[at + k] / area : (dipoles[from + k] ?? 0);
  terms[at + AREA] = area;
  for (let i = from; i < to; i += 7) {
    const dx = dipoles[i] - terms[at];
    const dy = dipoles[i + 1] - terms[at + 1];
    const dz = dipoles[i + 2] - terms[at + 2];
    addOuter(terms, at, dx, dy, dz, dipoles[i + 3], dipoles[i + 4], dipoles[i + 5]);
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
  if (child > 0)
    radius = Math.min(radius, Math.max(ballAround(terms, at, child), ballAround(terms, at, child + 1)));
  terms[at + RADIUS] = radius;
  terms[at + REACH] = (FAR * radius) ** 2;
}

function ballAround(terms: Float32Array, at: number, child: number): number {
  const c = child * TERMS;
  const d = Math.hypot(terms[at] - terms[c], terms[at + 1] - terms[c + 1], terms[at + 2] - terms[c + 2]);
  return d + terms[c + RADIUS];
}

const stack = new Int32Array(STACK);

/** The winding number at a point, within about a hundredth; a point on a triangle gets either side's. */
export function generalisedWinding(winding: WindingTree, x: number, y: number, z: number): number {
  const { tree, corners, dipoles, terms } = winding;
  const nodes = tree.nodes;
  if (tree.order.length === 0) return 0;
  let far = 0;
  let near = 0;
  let top = 0;
  stack[top++] = 0;
  while (top > 0) {
    const node = stack[--top];
    const at = node * TERMS;
    const rx = terms[at] - x;
    const ry = terms[at + 1] - y;
    const rz = terms[at + 2] - z;
    const r2 = rx * rx + ry * ry + rz * rz;
    if (r2 > terms[at + REACH]) {
      far += seriesAt(terms, at, rx, ry, rz, r2);
      continue;
    }
    const child = nodes[node * 3 + 2];
    if (child > 0) {
      stack[top++] = child;
      stack[top++] = child + 1;
      continue;
    }
    const from = nodes[node * 3];
    const to = from + nodes[node * 3 + 1];
    for (let i = from; i < to; i++) {
      const d = i * 7;
      const dx = dipoles[d] - x;
      const dy = dipoles[d + 1] - y;
      const dz = dipoles[d + 2] - z;
      const d2 = dx * dx + dy * dy + dz * dz;
      if (d2 > dipoles[d + 6]) {
        far += (dipoles[d + 3] * dx + dipoles[d + 4] * dy + dipoles[d + 5] * dz) / (d2 * Math.sqrt(d2));
      } else near += halfSolidAngle(corners, i * 9, x, y, z);
    }
  }
  return (far + near * 2) / (4 * Math.PI);
}

/** N·r/|r|³ + tr M/|r|³ − 3 rᵀM r/|r|⁵: a node's solid angle by the first two terms of its series. */
function seriesAt(terms: Float32Array, at: number, rx: number, ry: number, rz: number, r2: number): number {
  const reciprocal = 1 / Math.sqrt(r2);
  const inverse2 = reciprocal * reciprocal;
  const m = at + M;
  const direct = terms[at + N] * rx + terms[at + N + 1] * ry + terms[at + N + 2] * rz;
  const trace = terms[m] + terms[m + 1] + terms[m + 2];
  const mixed = terms[m + 3] * rx * ry + terms[m + 4] * rx * rz + terms[m + 5] * ry * rz;
  const quadratic = terms[m] * rx * rx + terms[m + 1] * ry * ry + terms[m + 2] * rz * rz + 2 * mixed;
  return inverse2 * reciprocal * (direct + trace - 3 * quadratic * inverse2);
}

/**
 * Half the signed solid angle of a triangle seen from a point, negative from its front: tan(Ω/2) by
 * van Oosterom & Strackee, *IEEE Trans. Biomed. Eng.* BME-30(2), 1983; turned so that a closed outward
 * skin gives +2π in all. 0 where the point lies in the triangle's plane.
 */
function halfSolidAngle(corners: Float32Array, i: number, x: number, y: number, z: number): number {
  const ax = corners[i] - x;
  const ay = corners[i + 1] - y;
  const az = corners[i + 2] - z;
  const bx = corners[i + 3] - x;
  const by = corners[i + 4] - y;
  const bz = corners[i + 5] - z;
  const cx = corners[i + 6] - x;
  const cy = corners[i + 7] - y;
  const cz = corners[i + 8] - z;
  const det = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  if (det === 0) return 0;
  const a = Math.sqrt(ax * ax + ay * ay + az * az);
  const b = Math.sqrt(bx * bx + by * by + bz * bz);
  const c = Math.sqrt(cx * cx + cy * cy + cz * cz);
  const ab = ax * bx + ay * by + az * bz;
  const bc = bx * cx + by * cy + bz * cz;
  const ca = cx * ax + cy * ay + cz * az;
  return Math.atan2(det, a * b * c + ab * c + bc * a + ca * b);
}
