import { commonRegion } from '../../kernel/common-region.ts';
import type { Kernel } from '../../kernel/load.ts';
import { fromFrame, type Plane, type PlaneFrame, planeDistance, planeFrame } from '../../math/plane.ts';
import { type Loop, polygonMoments, regionArea } from '../../math/polygon.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { cross, dot, normalize, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { chainRings, pointsIn } from '../../mesh/plane/outline.ts';
import { type FlatFace, flatFaces } from './flat-faces.ts';

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
 * `TOLERANCES.contact`: the largest first, and of the others those along whose normal the parts come apart as well.
 * `near` (recentred mm) chooses the frames' origins.
 */
export function findContacts(kernel: Kernel, front: Part, back: Part, near: Vec3): Contact[] {
  const backs = flatFaces(back, front);
  const pairs = (backs.length > 0 ? flatFaces(front, back) : []).flatMap((face) =>
    backs.flatMap((other) => touching(kernel, front, face, back, other, near) ?? []),
  );
  const found: Contact[] = [];
  for (const pair of pairs.sort((a, b) => b.areaMm2 - a.areaMm2)) {
    const first = found[0] ?? pair;
    const isAlong = dot(first.frame.n, pair.frame.n) > 0 && isParallel(first.frame.n, pair.frame.n);
    // A face is of one contact alone, with all that lies in its plane.
    const takenBy = found.filter(
      (one) => one.front.includes(pair.front[0]) || one.back.includes(pair.back[0]),
    );
    const into = found.find((one) => isInPlane(one, pair));
    if (!isAlong || takenBy.some((one) => one !== into)) continue;
    if (into === undefined) found.push(pair);
    else Object.assign(into, joined(kernel, front, back, into, pair));
  }
  return found.sort((a, b) => b.areaMm2 - a.areaMm2);
}

/** Two faces as a contact of their own; null where they do not touch. */
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
  const areaMm2 = regionArea(shared);
  if (areaMm2 < TOLERANCES.contactArea) return null;
  // Faces that lean to each other are as far apart as in the middle of what they share.
  const middle = fromFrame(rough, polygonMoments(shared).centroid);
  const heights = [face.plane, other.plane].map((p) => -planeDistance(p, middle) / dot(p.normal, normal));
  if (Math.abs(heights[0] - heights[1]) > TOLERANCES.contact) return null;
  const offset = dot(normal, middle) + (heights[0] + heights[1]) / 2;
  return { frame: planeFrame({ normal, offset }, near), shared, areaMm2, front: [face], back: [other] };
}

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

/** True where the faces of both sides go on in the same planes. */
function isInPlane(a: Contact, b: Contact): boolean {
  const goesOn = (one: FlatFace, other: FlatFace, at: Vec3) =>
    one === other ||
    (dot(one.plane.normal, other.plane.normal) > 1 - 1e-9 &&
      Math.abs(planeDistance(one.plane, at) - planeDistance(other.plane, at)) <= TOLERANCES.flat);
  const at = fromFrame(b.frame, polygonMoments(b.shared).centroid);
  return goesOn(a.front[0], b.front[0], at) && goesOn(a.back[0], b.back[0], at);
}

/** Both as one contact in the frame of the first. */
function joined(kernel: Kernel, front: Part, back: Part, a: Contact, b: Contact): Contact {
  const loops = (part: Part, faces: readonly FlatFace[], side: 'front' | 'back') =>
    faces.flatMap((face) => loopsOf(part, face, a.frame, side));
  const both = <T>(one: readonly T[], other: readonly T[]): T[] => [...new Set([...one, ...other])];
  const fronts = both(a.front, b.front);
  const backs = both(a.back, b.back);
  const shared = commonRegion(kernel, loops(front, fronts, 'front'), loops(back, backs, 'back'));
  return { frame: a.frame, shared, areaMm2: regionArea(shared), front: fronts, back: backs };
}
