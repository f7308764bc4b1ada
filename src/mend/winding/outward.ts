import type { Mesh } from '../../mesh/mesh.ts';
import type { Audit } from '../../mesh/topology/audit.ts';
import { hasInward } from '../report/needs-mending.ts';
import { boxWithin, type Shell, shellsOf } from '../shells/shell-parts.ts';
import { withTurned } from './wind.ts';
import { windingNumber } from './winding-number.ts';

/** Most vertices of a shell tried until one lies off the other shell. */
const TRIES = 12;

/**
 * Turns closed shells that are inside out, see `insideOutShells`.
 * @param isFaulty per shell: 1 where it has open or faulty edges; such shells stay as they are.
 */
export function turnOutward(
  mesh: Mesh,
  audit: Audit,
  isFaulty: Uint8Array,
): { mesh: Mesh; turnedCount: number } {
  if (!hasInward(mesh, audit)) return { mesh, turnedCount: 0 };
  const shells = shellsOf(mesh, audit);
  let turned = mesh;
  let turnedCount = 0;
  for (const shell of insideOutShells(shells, isFaulty)) {
    turned = withTurned(turned, shells[shell].ids);
    turnedCount += shells[shell].ids.length;
  }
  return { mesh: turned, turnedCount };
}

/**
 * Which shells to turn, by their numbers. A shell within no other faces outward. Where it did not, all that lies
 * in it is turned with it, so that a hollow stays a hollow. A shell within others keeps the file's winding: wound
 * inward it is a hollow, outward a body within a body; but where it would leave less than nothing, it is turned.
 */
export function insideOutShells(shells: readonly Shell[], isFaulty: Uint8Array): number[] {
  const around = containersOf(shells, isFaulty);
  const isTurned = new Uint8Array(shells.length);
  const signOf = (i: number) => (shells[i].volumeMm3 < 0 === (isTurned[i] === 0) ? -1 : 1);
  const byDepth = shells.map((_, i) => i).sort((a, b) => around[a].length - around[b].length);
  for (const i of byDepth) {
    if (isFaulty[i] === 1) continue;
    if (around[i].length > 0) isTurned[i] = isTurned[around[i][0]];
    const winding = around[i].reduce((sum, outer) => sum + signOf(outer), signOf(i));
    if (winding < 0) isTurned[i] = 1 - isTurned[i];
  }
  return byDepth.filter((i) => isTurned[i] === 1).sort((a, b) => a - b);
}

/** Per shell, the numbers of the sound shells it lies within, outermost first where they nest. */
export function containersOf(shells: readonly Shell[], isFaulty: Uint8Array): number[][] {
  const around = shells.map((inner, i) =>
    shells.flatMap((outer, o) => (o !== i && isFaulty[o] === 0 && liesWithin(inner, outer) ? [o] : [])),
  );
  return around.map((outers) => outers.sort((a, b) => around[a].length - around[b].length));
}

/** True where the closed shell `outer` winds round `inner`, judged at a vertex of `inner` that is off `outer`. */
function liesWithin(inner: Shell, outer: Shell): boolean {
  if (!boxWithin(inner.bounds, outer.bounds)) return false;
  const { positions: p, triangles: t } = inner.mesh;
  const step = Math.max(1, Math.floor(t.length / TRIES));
  for (let i = 0; i < t.length; i += step) {
    const v = t[i] * 3;
    const winding = windingNumber(outer.mesh, p[v], p[v + 1], p[v + 2]);
    if (winding !== null) return winding !== 0;
  }
  return false;
}
