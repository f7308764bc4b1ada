import { commonRegion } from '../../kernel/common-region.ts';
import type { Kernel } from '../../kernel/load.ts';
import {
  fromFrame,
  type Plane,
  type PlaneFrame,
  planeDistance,
  planeFrame,
  toFrame,
} from '../../math/plane.ts';
import { type Loop, polygonMoments, regionArea } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { cross, dot, normalize, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { chainRings, pointsIn } from '../../mesh/plane/outline.ts';
import { type FlatFace, flatFaces } from './flat-faces.ts';
import { isRoomy } from './is-roomy.ts';

/** Flat faces of two parts that touch, all in one plane. */
export interface Contact {
  /** Halfway between the two; its normal looks into the front part. Recentred mm. */
  frame: PlaneFrame;
  /** What both have in common, in the frame. */
  shared: Loop[];
  areaMm2: number;
  front: FlatFace[];
  back: FlatFace[];
}

/**
 * Where two parts touch with flat faces that look at each other, no farther apart and overlapping no more than
 * `TOLERANCES.contact`: the largest first, and of the others those along whose normal the parts come apart as well; with
 * `along` those alone whose normal it is. `near` (recentred mm) chooses the frames' origins.
 */
export function findContacts(kernel: Kernel, front: Part, back: Part, near: Vec3, along?: Vec3): Contact[] {
  const backs = flatFaces(back, front);
  const pairs = (backs.length > 0 ? flatFaces(front, back) : []).flatMap((face) =>
    backs.flatMap((other) => touching(kernel, front, face, back, other, near) ?? []),
  );
  const found: Contact[] = [];
  for (const pair of pairs.sort((a, b) => b.areaMm2 - a.areaMm2)) {
    const way = along ?? (found[0] ?? pair).frame.n;
    if (dot(way, pair.frame.n) < 0 || !isParallel(way, pair.frame.n)) continue;
    const into = found.find((one) => isInPlane(one, pair));
    if (into === undefined) {
      found.push(pair);
      continue;
    }
    into.shared.push(...pair.shared.map((loop) => movedInto(into.frame, pair.frame, loop)));
    into.areaMm2 += pair.areaMm2;
    for (const side of ['front', 'back'] as const)
      if (!into[side].includes(pair[side][0])) into[side].push(pair[side][0]);
  }
  return found.sort((a, b) => b.areaMm2 - a.areaMm2);
}

/** Two faces as a contact of their own; null where they do not touch, or share less than a joint could stand on. */
function touching(
  kernel: Kernel,
  front: Part,
  face: FlatFace,
  back: Part,
  other: FlatFace,
  near: Vec3,
): Contact | null {
  const [nf, nb] = [face.plane.normal, other.plane.normal];
  if (dot(nf, nb) > 0 || !isParallel(nf, nb) || !areBeside(face, other)) return null;
  const normal = normalize(sub(nb, nf));
  const level = (p: Plane) => p.offset * dot(p.normal, normal);
  const rough = planeFrame({ normal, offset: level(other.plane) }, near);
  const shared = commonRegion(
    kernel,
    loopsOf(front, face, rough, 'front'),
    loopsOf(back, other, rough, 'back'),
  );
  if (!isRoomy(shared)) return null;
  const heightOf = ({ plane: { normal: n, offset } }: FlatFace, p: Vec3) =>
    (offset - dot(n, p)) / dot(n, normal);
  // Faces that lean to each other touch where even their farthest corners do.
  const corners = shared.flatMap((loop) => pointsOf(rough, loop));
  const apart = corners.map((p) => Math.abs(heightOf(face, p) - heightOf(other, p)));
  if (Math.max(...apart) > TOLERANCES.contact) return null;
  const middle = fromFrame(rough, polygonMoments(shared).centroid);
  const offset = dot(normal, middle) + (heightOf(face, middle) + heightOf(other, middle)) / 2;
  const areaMm2 = regionArea(shared);
  return { frame: planeFrame({ normal, offset }, near), shared, areaMm2, front: [face], back: [other] };
}

const pointsOf = (frame: PlaneFrame, loop: Loop): Vec3[] =>
  Array.from({ length: loop.length / 2 }, (_, i) => fromFrame(frame, [loop[i * 2], loop[i * 2 + 1]]));

/** An outline of one frame seen in another that lies in the same plane. */
const movedInto = (to: PlaneFrame, from: PlaneFrame, loop: Loop): Loop =>
  Float64Array.from(pointsOf(from, loop).flatMap((p) => toFrame(to, p)));

/** A face's outlines in a frame, counter-clockwise around material seen from the front, whichever side it is on. */
function loopsOf(part: Part, { border }: FlatFace, frame: PlaneFrame, side: 'front' | 'back'): Loop[] {
  const edges = side === 'front' ? border.slice().reverse() : border;
  return chainRings(edges, part, frame).map((ring) => withoutStraight(pointsIn(frame, part, ring)));
}

/** A corner no farther than this from the line between those before and after it is none, mm: far below a file's rounding. */
const STRAIGHT = 1e-7;

/** The outline without corners that lie on a straight side, as a finely divided face has them by the hundred. */
function withoutStraight(loop: Loop): Loop {
  const kept: number[] = [];
  const n = loop.length;
  for (let i = 0; i < n; i += 2) {
    const [px, py] =
      kept.length > 0 ? [kept[kept.length - 2], kept[kept.length - 1]] : [loop[n - 2], loop[n - 1]];
    const [ux, uy] = [loop[(i + 2) % n] - px, loop[(i + 3) % n] - py];
    const off = Math.abs(ux * (loop[i + 1] - py) - uy * (loop[i] - px));
    if (off > STRAIGHT * Math.hypot(ux, uy)) kept.push(loop[i], loop[i + 1]);
  }
  return kept.length >= 6 ? Float64Array.from(kept) : loop;
}

/** True where the boxes of two faces come as near each other as faces that touch. */
const areBeside = ({ bounds: a }: FlatFace, { bounds: b }: FlatFace): boolean =>
  a.min.every((low, k) => low <= b.max[k] + TOLERANCES.contact && b.min[k] <= a.max[k] + TOLERANCES.contact);

/** True for unit vectors along one line. */
const isParallel = (a: Vec3, b: Vec3): boolean => Math.hypot(...cross(a, b)) <= TOLERANCES.contactTilt;

/** True where the faces of both sides go on in the same planes, wherever the second one's shared region is. */
function isInPlane(a: Contact, b: Contact): boolean {
  const corners = b.shared.flatMap((loop) => pointsOf(b.frame, loop));
  const goesOn = (one: FlatFace, other: FlatFace) =>
    one === other ||
    corners.every(
      (p) => Math.abs(planeDistance(one.plane, p) - planeDistance(other.plane, p)) <= TOLERANCES.flat,
    );
  return goesOn(a.front[0], b.front[0]) && goesOn(a.back[0], b.back[0]);
}
