import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';
import { type Corners, nearest, pointTriangleSquared, triangleTriangleSquared } from './triangle-distance.ts';

/**
 * A tree of boxes over a mesh's triangles, for nearest-distance questions; leaves hold at most eight triangles.
 */
export interface TriangleTree {
  mesh: Mesh;
  /** Triangle numbers, leaf by leaf. */
  order: Uint32Array;
  /** min x, y, z, max x, y, z per node. */
  boxes: Float64Array;
  /** Per node: first triangle in `order`, count (0 for an inner node), first child (the second follows it). */
  nodes: Int32Array;
}

const LEAF = 8;

export function buildTriangleTree(mesh: Mesh): TriangleTree {
  const count = mesh.triangles.length / 3;
  const order = Uint32Array.from({ length: count }, (_, i) => i);
  const boxes: number[] = [];
  const nodes: number[] = [];
  const centres = centresOf(mesh);
  const addNode = (from: number, to: number) => {
    boxes.push(...boxOf(mesh, order, from, to));
    nodes.push(from, to - from, 0);
  };
  addNode(0, count);
  for (let node = 0; node * 3 < nodes.length; node++) {
    const from = nodes[node * 3];
    const size = nodes[node * 3 + 1];
    if (size <= LEAF) continue;
    const middle = partition(order, centres, from, from + size);
    nodes[node * 3 + 1] = 0;
    nodes[node * 3 + 2] = nodes.length / 3;
    addNode(from, middle);
    addNode(middle, from + size);
  }
  return { mesh, order, boxes: Float64Array.from(boxes), nodes: Int32Array.from(nodes) };
}

function centresOf({ positions: p, triangles: t }: Mesh): Float32Array {
  const centres = new Float32Array(t.length);
  for (let i = 0; i < t.length; i += 3) {
    for (let k = 0; k < 3; k++)
      centres[i + k] = (p[t[i] * 3 + k] + p[t[i + 1] * 3 + k] + p[t[i + 2] * 3 + k]) / 3;
  }
  return centres;
}

function boxOf({ positions: p, triangles: t }: Mesh, order: Uint32Array, from: number, to: number): number[] {
  const box = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (let i = from; i < to; i++) {
    for (let c = 0; c < 3; c++) {
      const v = t[order[i] * 3 + c] * 3;
      for (let k = 0; k < 3; k++) {
        if (p[v + k] < box[k]) box[k] = p[v + k];
        if (p[v + k] > box[k + 3]) box[k + 3] = p[v + k];
      }
    }
  }
  return box;
}

/**
 * Orders triangles by which half of their centres' longest extent they lie in (long thin triangles have long
 * boxes and centres side by side); halves by number when all centres coincide.
 */
function partition(order: Uint32Array, centres: Float32Array, from: number, to: number): number {
  let axis = 0;
  let middle = 0;
  let longest = -1;
  for (let k = 0; k < 3; k++) {
    let low = Number.POSITIVE_INFINITY;
    let high = Number.NEGATIVE_INFINITY;
    for (let i = from; i < to; i++) {
      const c = centres[order[i] * 3 + k];
      if (c < low) low = c;
      if (c > high) high = c;
    }
    if (high - low <= longest) continue;
    longest = high - low;
    axis = k;
    middle = (low + high) / 2;
  }
  let left = from;
  let right = to - 1;
  while (left <= right) {
    if (centres[order[left] * 3 + axis] < middle) left++;
    else {
      const swap = order[left];
      order[left] = order[right];
      order[right--] = swap;
    }
  }
  return left === from || left === to ? (from + to) >> 1 : left;
}

/** Distance found, and the point on the tree's mesh and the one asked about. */
export interface Nearest {
  distance: number;
  onTree: Vec3;
  onQuery: Vec3;
}

/** Nodes waiting in a walk: far fewer than a tree of the most triangles can make wait. */
const waiting = new Int32Array(512);
/** How far off, squared, each of them is. */
const waitingGap = new Float64Array(512);

/**
 * Distance (mm) from a point to the tree's triangles, never looking farther than `cap`; infinite beyond it.
 * Sets `nearest` where it finds one. Makes no objects: it is asked a million times in a row.
 */
export function distanceToPoint(tree: TriangleTree, x: number, y: number, z: number, cap: number): number {
  const { nodes, boxes, order, mesh } = tree;
  let best = cap * cap;
  let found = false;
  let [px, py, pz] = [0, 0, 0];
  let top = 0;
  waiting[top] = 0;
  waitingGap[top++] = 0;
  while (top > 0) {
    const node = waiting[--top];
    if (waitingGap[top] >= best) continue;
    const child = nodes[node * 3 + 2];
    if (child > 0) {
      const first = boxPointSquared(boxes, child, x, y, z);
      const second = boxPointSquared(boxes, child + 1, x, y, z);
      // The nearer one goes on top.
      const firstNear = first < second;
      const far = firstNear ? second : first;
      const near = firstNear ? first : second;
      if (far < best) {
        waiting[top] = firstNear ? child + 1 : child;
        waitingGap[top++] = far;
      }
      if (near < best) {
        waiting[top] = firstNear ? child : child + 1;
        waitingGap[top++] = near;
      }
      continue;
    }
    const end = nodes[node * 3] + nodes[node * 3 + 1];
    for (let i = nodes[node * 3]; i < end; i++) {
      const d = pointTriangleSquared(x, y, z, cornersOf(mesh, order[i], scratch));
      if (d >= best) continue;
      best = d;
      found = true;
      px = nearest.x;
      py = nearest.y;
      pz = nearest.z;
    }
  }
  if (!found) return Number.POSITIVE_INFINITY;
  nearest.x = px;
  nearest.y = py;
  nearest.z = pz;
  return Math.sqrt(best);
}

function boxPointSquared(boxes: Float64Array, node: number, x: number, y: number, z: number): number {
  const b = node * 6;
  const dx = x < boxes[b] ? boxes[b] - x : x > boxes[b + 3] ? x - boxes[b + 3] : 0;
  const dy = y < boxes[b + 1] ? boxes[b + 1] - y : y > boxes[b + 4] ? y - boxes[b + 4] : 0;
  const dz = z < boxes[b + 2] ? boxes[b + 2] - z : z > boxes[b + 5] ? z - boxes[b + 5] : 0;
  return dx * dx + dy * dy + dz * dz;
}

/** The same, with the points it lies between; null beyond `cap`. */
export function nearestToPoint(tree: TriangleTree, p: Vec3, cap: number): Nearest | null {
  const distance = distanceToPoint(tree, p[0], p[1], p[2], cap);
  return distance < cap ? { distance, onTree: [nearest.x, nearest.y, nearest.z], onQuery: p } : null;
}

/** Least distance (mm) between one triangle and the tree's, 0 where they meet; null beyond `cap`. */
export function nearestToTriangle(tree: TriangleTree, query: Corners, cap: number): Nearest | null {
  const box = new Float64Array(6);
  for (let k = 0; k < 3; k++) {
    box[k] = Math.min(query[k], query[k + 3], query[k + 6]);
    box[k + 3] = Math.max(query[k], query[k + 3], query[k + 6]);
  }
  return search(tree, box, query, cap);
}

/** Nearest-first walk; boxes beyond the best so far are passed over. */
function search(tree: TriangleTree, box: Float64Array, query: Corners, cap: number): Nearest | null {
  const { nodes, boxes, order } = tree;
  const stack = [0];
  let best = cap * cap;
  let found: Nearest | null = null;
  while (stack.length > 0) {
    const node = stack.pop() as number;
    if (boxGapSquared(boxes, node, box) >= best) continue;
    const count = nodes[node * 3 + 1];
    const child = nodes[node * 3 + 2];
    if (child > 0) {
      const nearFirst = boxGapSquared(boxes, child, box) < boxGapSquared(boxes, child + 1, box);
      stack.push(nearFirst ? child + 1 : child, nearFirst ? child : child + 1);
      continue;
    }
    for (let i = nodes[node * 3]; i < nodes[node * 3] + count; i++) {
      const mine = cornersOf(tree.mesh, order[i], scratch);
      if (cornersGapSquared(mine, box) >= best) continue;
      const d = triangleTriangleSquared(query, mine);
      if (d >= best) continue;
      best = d;
      found = settleNearest(Math.sqrt(d), mine);
    }
  }
  return found;
}

/** Corners of the tree's triangle being measured. */
const scratch: Corners = new Float64Array(9);

/** Reads the last measurement's nearest point, and finds its mate on the tree where a triangle asked. */
function settleNearest(distance: number, mine: Corners): Nearest {
  const { x, y, z } = nearest;
  pointTriangleSquared(x, y, z, mine);
  return { distance, onTree: [nearest.x, nearest.y, nearest.z], onQuery: [x, y, z] };
}

function boxGapSquared(boxes: Float64Array, node: number, query: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const gap = Math.max(boxes[node * 6 + k] - query[k + 3], query[k] - boxes[node * 6 + 3 + k], 0);
    sum += gap * gap;
  }
  return sum;
}

/** The same for a triangle's own box. */
function cornersGapSquared(t: Corners, query: Float64Array): number {
  let sum = 0;
  for (let k = 0; k < 3; k++) {
    const low = Math.min(t[k], t[k + 3], t[k + 6]);
    const high = Math.max(t[k], t[k + 3], t[k + 6]);
    const gap = Math.max(low - query[k + 3], query[k] - high, 0);
    sum += gap * gap;
  }
  return sum;
}

/** Copies a triangle's corners into `into` (nine numbers) and answers it. */
export function cornersOf({ positions: p, triangles: t }: Mesh, triangle: number, into: Corners): Corners {
  for (let c = 0; c < 3; c++) {
    const v = t[triangle * 3 + c] * 3;
    into[c * 3] = p[v];
    into[c * 3 + 1] = p[v + 1];
    into[c * 3 + 2] = p[v + 2];
  }
  return into;
}
