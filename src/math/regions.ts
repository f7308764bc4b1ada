import { type Loop, loopArea, windingAt } from './polygon.ts';

/**
 * The separate regions of a face, the largest first: each an outline around material with the holes in it, in the
 * order they had. Islands within holes are regions of their own.
 */
export function regionsOf(loops: readonly Loop[]): Loop[][] {
  const areas = new Map(loops.map((loop) => [loop, loopArea(loop)]));
  const areaOf = (loop: Loop) => areas.get(loop) ?? 0;
  const outers = loops.filter((loop) => areaOf(loop) > 0).sort((a, b) => areaOf(b) - areaOf(a));
  if (outers.length < 2) return outers.length === 0 ? [] : [[...loops]];
  const regions = new Map(outers.map((outer) => [outer, [outer]]));
  for (const loop of loops) {
    if (areaOf(loop) > 0) continue;
    // The smallest outline around a hole is the one it is in.
    const around = outers.filter((outer) => windingAt([outer], loop[0], loop[1]) !== 0).at(-1);
    if (around) regions.get(around)?.push(loop);
  }
  return [...regions.values()];
}
