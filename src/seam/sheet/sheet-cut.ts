import { PegwrightError } from '../../errors.ts';
import type { Kernel } from '../../kernel/load.ts';
import { kernelSplit } from '../../kernel/solid.ts';
import type { PlaneFrame } from '../../math/plane.ts';
import { type Loop, loopArea, loopPerimeter } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { sub, type Vec3 } from '../../math/vec3.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';
import { NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import type { Bound } from '../bounded/bound-trace.ts';
import { capTriangles } from '../cap.ts';
import type { Astray, Facet, SweptFaces } from '../cut.ts';
import { isSimpleRegion } from '../simple.ts';
import { type DividedRun, gatherSides, type OpenSide } from '../split.ts';
import { boundSheet } from './bound-sheet.ts';
import { crossSheet, type SheetCrossing } from './cross-sheet.ts';
import { fillPiece, piecesOn } from './divide-triangle.ts';
import { dropFilms } from './drop-films.ts';
import { isDoubled } from './is-doubled.ts';
import { fillSides } from './plan-view.ts';
import { type Profile, segmentFrame, segmentTurns } from './profile.ts';
import { sheetBody } from './sheet-body.ts';
import { type CreaseSpan, creaseSpans, type SegmentFace, sheetFaces } from './sheet-faces.ts';
import { groupSheet, groupsAt, type SheetGroup, type SheetGroups } from './sheet-groups.ts';

/** A part divided by a sheet. */
export interface SheetCut {
  way: 'local' | 'kernel';
  front: Part;
  back: Part;
  facets: Facet[];
  swept: SweptFaces;
  astray: Astray;
}

/**
 * Divides a closed part along a sheet and closes both sides. Triangles that the sheet does not pass through come out as
 * they went in. Where what it cuts bounds no plain region (shells that overlap, skin that lies in the sheet) the kernel's
 * boolean divides it. `near` (recentred mm) chooses the faces' frames; `bound` the outlines that are cut, all where it is
 * left out.
 * @throws PegwrightError `seam-frees-nothing`; `seam-outlines-cross` where only some outlines are cut, and those not plain:
 *   the kernel cuts all or none. Or the kernel's refusals.
 */
export function cutBySheet(
  kernel: Kernel,
  part: Part,
  profile: Profile,
  seamId: string,
  near: Vec3,
  bound?: Bound,
): SheetCut {
  const runs = part.patches.map(({ triangles }) => triangles);
  const whole = crossSheet(part, runs, profile);
  const { groups, chosen } = chooseGroups(whole, near, bound);
  const isBounded = groups !== null && bound !== undefined;
  fillSides(part, runs, whole.met, whole.view);
  const { crossing, astray } = isBounded
    ? boundSheet(part, whole, groups, chosen, seamId, bound)
    : { crossing: whole, astray: NONE_ASTRAY };
  const { spans, isPlain } = creaseSpans(crossing.piercings);
  const faces = sheetFaces(crossing, spans, near);
  const turns = segmentTurns(profile);
  const made = {
    astray,
    facets: sheetFacets(
      profile,
      near,
      isBounded ? groups.groups.filter((_, group) => !chosen.has(group)) : [],
    ),
    swept: {
      along: profile.frame.n,
      faces: faces.map(({ segment }) => ({ facet: segment, turnDeg: turns[segment] })),
      turnsDeg: [Math.min(...turns), Math.max(...turns)] as const,
    },
  };
  const isPlainCut = isPlain && faces.every((face) => isPlainFace(face, part));
  const sides = isPlainCut ? divideLocally(kernel, part, crossing, spans, faces, seamId) : null;
  if (sides) return { way: 'local', ...sides, ...made };
  if (isBounded) throw new PegwrightError('seam-outlines-cross', { seamId });
  const { front, back } = kernelSplit(kernel, part, sheetBody(kernel, part, profile, seamId));
  return { way: 'kernel', ...made, front: dropFilms(front), back: dropFilms(back) };
}

/** Both sides by our own split and caps; null where those would not close them. */
function divideLocally(
  kernel: Kernel,
  part: Part,
  crossing: SheetCrossing,
  spans: readonly CreaseSpan[],
  faces: readonly SegmentFace[],
  seamId: string,
): Pick<SheetCut, 'front' | 'back'> | null {
  const runs = part.patches.map(({ triangles }) => triangles);
  const caps = faces.map(({ loops }) => capTriangles(kernel, loops));
  const divided = divideRuns(kernel, crossing, runs);
  if (isDoubled(crossing, spans, divided, runs, faces, caps)) return null;
  const labels = { vertices: crossing.vertices, ownCount: crossing.ownCount, side: crossing.view.side };
  const rings = faces.map((face) => joinIndices(face.rings));
  const sides = gatherSides(part, labels, divided, rings, crossing.vertices.added.length / 3);
  return {
    front: closeSide(sides.front, faces, caps, seamId, 'front'),
    back: closeSide(sides.back, faces, caps, seamId, 'back'),
  };
}

const NONE_ASTRAY: Astray = { front: [], back: [] };

/** The groups of a sheet's outlines and those that points mean; null where all of them are meant. */
function chooseGroups(
  crossing: SheetCrossing,
  near: Vec3,
  bound: Bound | undefined,
): { groups: SheetGroups; chosen: Set<number> } | { groups: null; chosen: Set<number> } {
  const all = { groups: null, chosen: new Set<number>() };
  if (!bound) return all;
  const { spans } = creaseSpans(crossing.piercings);
  const groups = groupSheet(crossing, spans, sheetFaces(crossing, spans, near));
  const chosen = groupsAt(
    groups,
    bound.through.map((point) => sub(point, bound.originMm)),
  );
  return chosen.size === 0 || chosen.size === groups.groups.length ? all : { groups, chosen };
}

/** True where a face's outlines bound a plain region, none of them as thin as rounding: a corner of the sheet may graze the skin. */
const isPlainFace = ({ loops }: SegmentFace, part: Part): boolean =>
  loops.every((loop) => 2 * Math.abs(loopArea(loop)) > 4 * snapDistance(part) * loopPerimeter(loop)) &&
  isSimpleRegion(loops, TOLERANCES.outlineSlop);

/** The facets of a sheet, one for each of its segments, whether it meets the part or not, with the outlines that are left whole. */
const sheetFacets = (profile: Profile, near: Vec3, left: readonly SheetGroup[]): Facet[] =>
  Array.from(profile.isBent, (isBent, segment) => ({
    frame: segmentFrame(profile, segment, near),
    uncut: loopsOn(left, segment),
    ...(isBent === 1 && { isBent: true as const }),
  }));

const loopsOn = (groups: readonly SheetGroup[], segment: number): Loop[] =>
  groups.flatMap(({ on }) => on.flatMap((face) => (face.segment === segment ? face.loops : [])));

/** Where a sheet would divide a part, facet by facet, without dividing it. */
export function sheetOutline(
  part: Part,
  profile: Profile,
  near: Vec3,
  bound?: Bound,
): { frame: PlaneFrame; loops: Loop[]; uncut: Loop[] }[] {
  const runs = part.patches.map(({ triangles }) => triangles);
  const crossing = crossSheet(part, runs, profile);
  const { groups, chosen } = chooseGroups(crossing, near, bound);
  if (groups) {
    const [cut, left] = [true, false].map((is) =>
      groups.groups.filter((_, group) => chosen.has(group) === is),
    );
    return sheetFacets(profile, near, left).map((face, facet) => ({
      ...face,
      loops: loopsOn(cut, facet),
    }));
  }
  const faces = sheetFaces(crossing, creaseSpans(crossing.piercings).spans, near);
  return sheetFacets(profile, near, []).map((face, facet) => ({
    ...face,
    loops: faces.filter(({ segment }) => segment === facet).flatMap(({ loops }) => loops),
  }));
}

/** What each run leaves on both sides, its crossed triangles divided. */
function divideRuns(kernel: Kernel, crossing: SheetCrossing, runs: readonly Uint32Array[]): DividedRun[] {
  const { view, triangles: crossed, piercings, idOf } = crossing;
  const placeOf = new Map(piercings.map(({ id, place }) => [id, place]));
  const made = runs.map((triangles) => ({
    front: [] as number[],
    back: [] as number[],
    isDivided: new Uint8Array(triangles.length / 3),
  }));
  for (const triangle of crossed) {
    const { front, back, isDivided } = made[triangle.run];
    isDivided[triangle.at / 3] = 1;
    for (const side of [1, -1] as const) {
      for (const piece of piecesOn(triangle, side, (id) => placeOf.get(id) ?? [0, 0]))
        fillPiece(kernel, piece, idOf, side > 0 ? front : back);
    }
  }
  return runs.map((triangles, r) => {
    const { isDivided } = made[r];
    let frontCount = 0;
    let backCount = 0;
    for (let i = 0; i < triangles.length; i += 3) {
      if (isDivided[i / 3] === 1) continue;
      if (view.side[triangles[i]] > 0) frontCount++;
      else backCount++;
    }
    return {
      triangles,
      frontCount,
      backCount,
      isDivided,
      front: Uint32Array.from(made[r].front),
      back: Uint32Array.from(made[r].back),
    };
  });
}

/** Adds the faces: caps index the points of their rings, one ring after the other. */
function closeSide(
  side: OpenSide,
  faces: readonly SegmentFace[],
  caps: readonly Uint32Array[],
  seamId: string,
  which: 'front' | 'back',
): Part {
  const made = faces.flatMap(({ segment }, face): Patch[] => {
    const triangles = caps[face].map((i) => side.rings[face][i]);
    if (which === 'front') triangles.reverse();
    return triangles.length > 0 ? [{ of: { kind: 'face', seamId, facet: segment }, triangles }] : [];
  });
  return { positions: side.positions, added: NOTHING_ADDED, patches: [...side.patches, ...made] };
}
