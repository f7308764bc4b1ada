import { PegwrightError } from '../../errors.ts';
import { type Plane, type PlaneFrame, toFrame } from '../../math/plane.ts';
import type { Loop } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { add, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { vertexCount } from '../../mesh/part/vertices.ts';
import type { Ring } from '../../mesh/plane/outline.ts';
import type { Trace } from '../../mesh/plane/trace.ts';
import { loopsNest } from '../simple.ts';
import { joiningPlace } from './joining-place.ts';
import { settleLoose } from './loose-shells.ts';
import { groupAt, groupOutlines, type OutlineGroups } from './outline-groups.ts';
import { BACK, FRONT, Pieces } from './pieces.ts';
import { relabel } from './relabel.ts';

/** Which of a plane's outlines a seam divides: those that points mean. */
export interface Bound {
  /** In the file's coordinates, mm; each is taken square to the plane. */
  through: readonly Vec3[];
  /** Add this to the part's coordinates for the file's. */
  originMm: Vec3;
}

/** A trace along some of a plane's outlines. */
export interface BoundTrace {
  trace: Trace;
  /** The outlines that are cut. */
  rings: Ring[];
  loops: Loop[];
  /** They bound a plain region, see `isSimpleRegion`. */
  isSimple: boolean;
  /** The other outlines. */
  uncut: Loop[];
}

/** Numbers of the groups that points mean. */
export const chosenGroups = (
  { groups }: OutlineGroups,
  frame: PlaneFrame,
  { through, originMm }: Bound,
): Set<number> => {
  const chosen = new Set(through.map((point) => groupAt(groups, toFrame(frame, sub(point, originMm)))));
  chosen.delete(-1);
  return chosen;
};

/**
 * Bounds a trace to the outlines that points mean: whatever else the plane crosses goes whole to the side it hangs
 * together with. Null where all of them are meant. `rings` and `loops` are those of `outlineOf`; takes the trace over.
 * @throws PegwrightError `seam-frees-nothing` where what is on both sides of the cut hangs together elsewhere.
 */
export function boundTrace(
  part: Part,
  plane: Plane,
  frame: PlaneFrame,
  trace: Trace,
  rings: readonly Ring[],
  loops: readonly Loop[],
  seamId: string,
  bound: Bound,
): BoundTrace | null {
  const outlines = groupOutlines(trace, rings, loops);
  const chosen = chosenGroups(outlines, frame, bound);
  if (chosen.size === 0 || chosen.size === outlines.groups.length) return null;
  const isCut = new Uint8Array(vertexCount(trace.vertices));
  outlines.ids.forEach((id, i) => {
    if (chosen.has(outlines.groupOf[i])) isCut[id] = 1;
  });
  const pieces = new Pieces(part, plane, trace, isCut);
  const sideOf = new Int8Array(pieces.limit);
  for (let piece = 0; piece < sideOf.length; piece++) {
    const rims = pieces.rimsOf(piece);
    sideOf[piece] = rims === FRONT ? 1 : rims === BACK ? -1 : 0;
    if (rims !== (FRONT | BACK)) continue;
    const at = joiningPlace(part, plane, frame, trace, outlines, isCut, pieces, piece);
    throw new PegwrightError('seam-frees-nothing', {
      seamId,
      chosen: chosen.size,
      at: add(at, bound.originMm),
    });
  }
  settleLoose(part, frame, trace, pieces, sideOf);
  const members = [...chosen].flatMap((group) => outlines.groups[group].members).sort((a, b) => a - b);
  const cut = members.map((k) => loops[k]);
  const isCrossed = [...chosen].some((group) => outlines.groups[group].isCrossed);
  return {
    trace: relabel(trace, pieces, sideOf),
    rings: members.map((k) => rings[k]),
    loops: cut,
    isSimple: !isCrossed && loopsNest(cut, TOLERANCES.outlineSlop),
    uncut: loops.filter((_, k) => !members.includes(k)),
  };
}
