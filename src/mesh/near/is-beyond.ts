import { type Corners, nearest } from './triangle-distance.ts';
import { distanceToPoint, type TriangleTree } from './triangle-tree.ts';

/**
 * True where a triangle is sure to be no nearer than `cap` (mm) to the tree's mesh: by its middle alone, or because a
 * plane about the whole mesh, square to the way from the mesh to its middle, is that far from all three corners. For a
 * convex mesh the plane decides nearly always, and far sooner than the triangles' own distance.
 */
export function isBeyond(tree: TriangleTree, corners: Corners, cap: number): boolean {
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
  const nx = x - nearest.x;
  const ny = y - nearest.y;
  const nz = z - nearest.z;
  let height = Number.POSITIVE_INFINITY;
  for (let c = 0; c < 9; c += 3)
    height = Math.min(height, nx * corners[c] + ny * corners[c + 1] + nz * corners[c + 2]);
  const least = height - cap * distance;
  const { positions } = tree.mesh;
  for (let i = 0; i < positions.length; i += 3)
    if (nx * positions[i] + ny * positions[i + 1] + nz * positions[i + 2] > least) return false;
  return true;
}
