import type { Kernel } from '../../kernel/load.ts';
import { prismOver } from '../../kernel/prism.ts';
import { kernelAdd, kernelCommon } from '../../kernel/solid.ts';
import { type Plane, planeFrame } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { add, dot, scale, type Vec3 } from '../../math/vec3.ts';
import { type Bounds, boundsOf, measureMesh } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { distanceToPoint, type TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { meshOf, type Part, type Patch, type PatchOf } from '../../mesh/part/part.ts';
import { allPositions, NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import type { Side } from '../../model/part-ref.ts';
import { workBehind } from '../collar.ts';
import type { Handed } from '../cut.ts';
import { joinClose } from '../nest/join-close.ts';
import { sidesReached } from '../nest/overlap-box.ts';
import { collarOf, FOREIGN, isMadeBy, type Trim, trimmed } from '../nest/trim.ts';
import { columnAt, STEEP } from './column.ts';
import { type Touch, treeBeside } from './touch.ts';

/**
 * A flat across surface along which two parts touch. Where the plane runs within one of them a little inside of the
 * contact, what that one has between the plane and the contact changes hands: the other takes it over, and both meet on the
 * plane. Nothing shows outside, nothing is there twice, and nothing is new but what fills the slit that was between them. A
 * socket could not hold a peg that rose from the curve itself without a collar round its foot: on a face of each, a joint
 * is as on a cut.
 */

/** What is put over the contact reaches so much farther into the other part than the slit is wide, mm: more than rounding and chords. */
const OVER = 0.04;
/** The prism over what changes hands reaches so far beyond it either way, mm. */
const BEYOND = 1;
/** How far a box around the prism stays off it, mm: more than rounding. */
const MARGIN = 1;

/** Two parts that meet on a flat now, and what one took over from the other. */
export interface FlatTouch {
  parts: Readonly<Record<Side, Part>>;
  handed: Handed;
}

/**
 * Gives two parts that touch faces on a flat: null where it has no room for a joint anywhere, or cuts off what does not lie
 * against the other part all over, or what put in its place would come out of that one.
 * @throws PegwrightError the kernel's refusals.
 */
export function handOver(
  kernel: Kernel,
  before: Readonly<Record<Side, Part>>,
  touch: Touch,
  flat: Plane,
  { seamId, originMm, middle }: Pick<Trim, 'seamId' | 'originMm'> & { middle: Vec3 },
): FlatTouch | null {
  const frame = planeFrame(flat, middle);
  const column = columnAt(kernel, before, touch, frame);
  if (!column) return null;
  const { gives, ahead, regions, deepMm } = column;
  const takes = gives === 'front' ? 'back' : 'front';
  const heights =
    gives === 'front' ? ([-deepMm - BEYOND, BEYOND] as const) : ([-BEYOND, deepMm + BEYOND] as const);
  const end = { normal: ahead.normal, offset: ahead.offset + deepMm + BEYOND / 2 };
  const tree = treeBeside(before[takes], before[gives]);
  let [given, taken] = [before[gives], before[takes]];
  for (const loops of regions) {
    const prism = prismOver(kernel, loops, frame, heights);
    const slitMm = slitUnder(pieceOf(kernel, before[gives], prism, ahead, seamId), tree, end);
    if (slitMm === null) continue;
    const overMm = (slitMm + OVER) / STEEP;
    const plug = pieceOf(kernel, before[gives], prism, ahead, seamId, scale(ahead.normal, overMm));
    const box = around(prism, MARGIN + overMm);
    const trim = { seamId, box, from: ahead, gapMm: 0, rimMm: 0, originMm };
    const more = filled(kernel, taken, plug, box, seamId);
    if (more === null) continue;
    taken = more;
    given = trimmed(kernel, given, asPart(prism), trim);
  }
  if (given === before[gives]) return null;
  const volumeMm3 = volumeOf(before[gives]) - volumeOf(given);
  const filledMm3 = volumeOf(taken) - volumeOf(before[takes]) - volumeMm3;
  const [front, back] = (gives === 'front' ? [given, taken] : [taken, given]).map((part) =>
    withOneFace(part, seamId),
  );
  return { parts: { front, back }, handed: { from: gives, volumeMm3, filledMm3 } };
}

/** The prism's own sides, in a piece that was taken with it. */
const SIDES: PatchOf = { kind: 'skin' };

const asPart = ({ positions, triangles }: Mesh): Part => ({
  positions,
  added: NOTHING_ADDED,
  patches: [{ of: SIDES, triangles }],
});

/** What a part, moved by some mm, has in a prism ahead of a plane. */
function pieceOf(
  kernel: Kernel,
  part: Part,
  prism: Mesh,
  ahead: Plane,
  seamId: string,
  by: Vec3 = [0, 0, 0],
): Part {
  const near = collarOf(part, around(prism, MARGIN + Math.hypot(...by)));
  const positions = Float32Array.from(allPositions(near), (value, i) => value + by[i % 3]);
  const moved = { positions, added: NOTHING_ADDED, patches: near.patches };
  return kernelCommon(kernel, moved, asPart(prism), seamId, ahead);
}

/**
 * The widest slit between a piece and the other part's surface, mm, over all of its surface that it was not cut with; null
 * where some of that does not touch, or the prism's sides go on in it in front of `end`.
 */
function slitUnder(piece: Part, other: TriangleTree, end: Plane): number | null {
  const p = allPositions(piece);
  const most = TOLERANCES.contact;
  let slitMm = 0;
  const holdAgainst = (q: Vec3) => {
    slitMm = Math.max(slitMm, distanceToPoint(other, ...q, most));
  };
  for (const { of, triangles: t } of piece.patches) {
    if (of.kind === 'face') continue;
    for (let i = 0; i < t.length; i += 3) {
      const corners = [t[i], t[i + 1], t[i + 2]].map((v): Vec3 => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]]);
      if (of === SIDES) {
        if (corners.some((q) => dot(end.normal, q) > end.offset)) return null;
        continue;
      }
      for (const corner of corners) holdAgainst(corner);
      const [a, b, c] = corners;
      holdAgainst(scale(add(add(a, b), c), 1 / 3));
    }
  }
  return slitMm <= most ? slitMm : null;
}

function around(mesh: Mesh, marginMm: number): Bounds {
  const { min, max } = boundsOf(mesh);
  const margin: Vec3 = [marginMm, marginMm, marginMm];
  return { min: add(min, scale(margin, -1)), max: add(max, margin) };
}

/**
 * The part with a piece added that reaches into it; the piece's sides follow the seam's other part. Null where more of it
 * shows than those and its face: it comes out of thin material, or bridges a hollow.
 */
function filled(kernel: Kernel, part: Part, piece: Part, box: Bounds, seamId: string): Part | null {
  const sides: PatchOf = { kind: 'skin', trimmedBy: seamId };
  const own = piece.patches.map(
    ({ of, triangles }): Patch => ({
      of: of.kind === 'face' ? of : of === SIDES ? sides : FOREIGN,
      triangles,
    }),
  );
  const leastMm = 2 * snapDistance(part);
  const added = (to: Part) => {
    const both = kernelAdd(kernel, to, { ...piece, patches: own });
    if (both.patches.some(({ of, triangles }) => of === FOREIGN && triangles.length > 0)) return null;
    return joinClose(both, (patch) => isMadeBy(patch, seamId), leastMm);
  };
  const whole = workBehind(part, sidesReached(part, box), added, true) ?? added(part);
  if (whole === null) return null;
  const patches = whole.patches
    .filter(({ triangles }) => triangles.length > 0)
    .map(({ of, triangles }): Patch => ({ of, triangles: triangles.slice() }));
  return { positions: allPositions(whole), added: NOTHING_ADDED, patches };
}

const volumeOf = (part: Part): number => measureMesh(meshOf(part)).volumeMm3;

/** The part with all that it has on the flat in one patch. */
function withOneFace(part: Part, seamId: string): Part {
  const isFace = ({ of }: Patch) => of.kind === 'face' && of.seamId === seamId;
  const faces = part.patches.filter(isFace);
  if (faces.length < 2) return part;
  const triangles = Uint32Array.from(faces.flatMap((face) => [...face.triangles]));
  return {
    ...part,
    patches: [...part.patches.filter((patch) => !isFace(patch)), { of: faces[0].of, triangles }],
  };
}
