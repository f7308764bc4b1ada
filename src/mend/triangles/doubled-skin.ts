import type { Mesh } from '../../mesh/mesh.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import { groupEdges, nextHalf } from '../touching/edge-groups.ts';

/** Marks a triangle whose turned twin is nowhere. */
const NO_TWIN = -1;

/**
 * Marks the triangles to drop where a surface is laid back to back on itself: of each patch of triangles that are
 * also there turned, the later copies. Left alone are
 * - shared faces of two bodies: at the patch's rim go on two surfaces, one on each side;
 * - a sheet folded onto itself, a body without volume: nothing goes on at its rim, and the rim is as long as a
 *   plane sheet's must be, L² ≥ 4πA (the isoperimetric inequality). A skin with a hole has a shorter one.
 */
export function markDoubledSkin(mesh: Mesh): { drop: Uint8Array; count: number } {
  const twins = turnedTwins(mesh.triangles);
  const drop = new Uint8Array(twins.length);
  let count = 0;
  if (twins.every((twin) => twin === NO_TWIN)) return { drop, count };
  const { rimOf, areaOf, patchOf, isShared } = measurePatches(mesh, twins);
  for (let i = 0; i < twins.length; i++) {
    const patch = patchOf[i];
    if (twins[i] === NO_TWIN || twins[i] > i || isShared[patch] === 1) continue;
    if (rimOf[patch] ** 2 >= 4 * Math.PI * areaOf[patch]) continue;
    drop[i] = 1;
    count++;
  }
  return { drop, count };
}

/** Triangles that lie back to back on an earlier one. */
export function findDoubled({ triangles }: Mesh): number[] {
  const doubled: number[] = [];
  turnedTwins(triangles).forEach((twin, i) => {
    if (twin !== NO_TWIN && twin < i) doubled.push(i);
  });
  return doubled;
}

/** For each triangle the one with the same corners in the other turn, each in one pair at most. */
function turnedTwins(t: Uint32Array): Int32Array {
  const twins = new Int32Array(t.length / 3).fill(NO_TWIN);
  const slots = new Int32Array(2 ** Math.ceil(Math.log2(Math.max(2, (t.length / 3) * 2)))).fill(NO_TWIN);
  const mask = slots.length - 1;
  for (let i = 0; i < t.length; i += 3) {
    const least = Math.min(t[i], t[i + 1], t[i + 2]);
    const most = Math.max(t[i], t[i + 1], t[i + 2]);
    let slot = (Math.imul(least, 0x9e3779b1) ^ Math.imul(most, 0x85ebca6b)) & mask;
    while (slots[slot] !== NO_TWIN) {
      const other = slots[slot];
      if (twins[other] === NO_TWIN && isTurned(t, i, other * 3)) {
        twins[other] = i / 3;
        twins[i / 3] = other;
        break;
      }
      slot = (slot + 1) & mask;
    }
    if (twins[i / 3] === NO_TWIN) slots[slot] = i / 3;
  }
  return twins;
}

function isTurned(t: Uint32Array, i: number, j: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (t[i] === t[j + k] && t[i + 1] === t[j + ((k + 2) % 3)] && t[i + 2] === t[j + ((k + 1) % 3)])
      return true;
  }
  return false;
}

interface Patches {
  /** Per triangle, the triangle that stands for its patch. */
  patchOf: Uint32Array;
  /** Per patch: length of the rim at which nothing goes on (mm), area of one side (mm²), whether two bodies share it. */
  rimOf: Float64Array;
  areaOf: Float64Array;
  isShared: Uint8Array;
}

/** Gathers twinned triangles into patches and looks at what goes on at each one's rim. */
function measurePatches(mesh: Mesh, twins: Int32Array): Patches {
  const n = twins.length;
  const { starts, halves } = groupEdges(mesh);
  const patches = newShells(n);
  for (let i = 0; i < n; i++) if (twins[i] !== NO_TWIN) joinShells(patches, i, twins[i]);
  /** Rim edges: a half-edge of the patch, and how many surfaces go on there. */
  const rims: number[] = [];
  for (let g = 0; g + 1 < starts.length; g++) {
    const twinned = halves.subarray(starts[g], starts[g + 1]).filter((h) => twins[(h / 3) | 0] !== NO_TWIN);
    if (twinned.length > 2) for (const h of twinned) joinShells(patches, (twinned[0] / 3) | 0, (h / 3) | 0);
    else if (twinned.length > 0) rims.push(twinned[0], starts[g + 1] - starts[g] - twinned.length);
  }
  const patchOf = patches.map((_, i) => rootOf(patches, i));
  const found = {
    patchOf,
    rimOf: new Float64Array(n),
    areaOf: new Float64Array(n),
    isShared: new Uint8Array(n),
  };
  for (let i = 0; i < rims.length; i += 2) {
    const patch = patchOf[(rims[i] / 3) | 0];
    if (rims[i + 1] === 0) found.rimOf[patch] += halfLength(mesh, rims[i]);
    if (rims[i + 1] > 1) found.isShared[patch] = 1;
  }
  for (let i = 0; i < n; i++) if (twins[i] > i) found.areaOf[patchOf[i]] += areaOf(mesh, i);
  return found;
}

function halfLength({ positions: p, triangles: t }: Mesh, h: number): number {
  const [a, b] = [t[h] * 3, t[nextHalf(h)] * 3];
  return Math.hypot(p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]);
}

function areaOf({ positions: p, triangles: t }: Mesh, i: number): number {
  const [a, b, c] = [t[i * 3] * 3, t[i * 3 + 1] * 3, t[i * 3 + 2] * 3];
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  return Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2;
}
