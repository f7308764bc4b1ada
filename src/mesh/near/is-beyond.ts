import { type Corners, nearest } from './triangle-distance.ts';
import { triangleHeight } from './triangle-height.ts';
import { distanceToPoint, type TriangleTree } from './triangle-tree.ts';

/**
 * True where a triangle is sure to be no nearer than `cap` (mm) to the tree's mesh: by its middle alone, or because a
 * plane about the whole mesh, square to the way from the mesh to its middle, is that far from all three corners. For a
 * convex mesh the plane decides nearly always, and far sooner than the triangles' own distance. Planes found for others
 * are tried first: what is asked about in a row lies much the same way.
 */
export function isBeyond(tree: TriangleTree, corners: Corners, cap: number): boolean {
  const planes = planesAbout(tree);
  for (let at = 0; at < planes.count * 4; at += 4)
    if (triangleHeight(planes.of, at, corners) >= cap) return true;
  const x = (corners[0] + corners[3] + corners[6]) / 3;
  const y = (corners[1] + corners[4] + corners[7]) / 3;
  const z = (corners[2] + corners[5] + corners[8]) / 3;
  let reach = 0;
  for (let c = 0; c < 9; c += 3)
    reach = Math.max(reach, Math.hypot(corners[c] - x, corners[c + 1] - y, corners[c + 2] - z));
  const distance = distanceToPoint(tree, x, y, z, cap + reach);
  if (distance === Number.POSITIVE_INFINITY) return true;
  // Its middle is on the mesh: there is no way between them for a plane to be square to.
  if (distance === 0) return false;
  const at = addPlane(
    tree,
    planes,
    (x - nearest.x) / distance,
    (y - nearest.y) / distance,
    (z - nearest.z) / distance,
  );
  return triangleHeight(planes.of, at, corners) >= cap;
}

/** Planes with all of a mesh behind them: unit normals and offsets (mm), four numbers each; the oldest makes way. */
interface Planes {
  of: Float64Array;
  count: number;
  next: number;
}

const KEPT = 8;

const known = new WeakMap<TriangleTree, Planes>();

function planesAbout(tree: TriangleTree): Planes {
  let planes = known.get(tree);
  if (!planes) {
    planes = { of: new Float64Array(KEPT * 4), count: 0, next: 0 };
    known.set(tree, planes);
  }
  return planes;
}

/** Adds the plane of this normal that touches the mesh; answers where it stands. */
function addPlane(
  { mesh: { positions: p } }: TriangleTree,
  planes: Planes,
  nx: number,
  ny: number,
  nz: number,
): number {
  let offset = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < p.length; i += 3) {
    const height = nx * p[i] + ny * p[i + 1] + nz * p[i + 2];
    if (height > offset) offset = height;
  }
  const at = planes.next * 4;
  planes.of.set([nx, ny, nz, offset], at);
  planes.next = (planes.next + 1) % KEPT;
  planes.count = Math.min(planes.count + 1, KEPT);
  return at;
}
