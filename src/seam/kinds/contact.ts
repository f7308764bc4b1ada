import { PegwrightError } from '../../errors.ts';
import { commonRegion } from '../../kernel/common-region.ts';
import type { Kernel } from '../../kernel/load.ts';
import { type Plane, plane, planeFrame } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { dot, scale, sub, type Vec3 } from '../../math/vec3.ts';
import { middleOf } from '../../mesh/measure.ts';
import { type FacetOf, facetsOf, type Part, type Patch } from '../../mesh/part/part.ts';
import { partFacts } from '../../mesh/part/part-facts.ts';
import { joinedBy, type Nesting, nestingOf } from '../../model/contact-seam.ts';
import type { Side } from '../../model/part-ref.ts';
import type { ContactSpec, SeamFlat } from '../../model/seam-schema.ts';
import { type Contact, findContacts } from '../contact/contacts.ts';
import { type FlatFace, turned } from '../contact/flat-faces.ts';
import { isRoomy } from '../contact/is-roomy.ts';
import { type Cut, type Facet, findFace } from '../cut.ts';
import type { SculptPlace, SeamKind } from '../kind.ts';
import { type Nested, nest } from '../nest/nest.ts';
import type { Trim } from '../nest/trim.ts';
import { planeOutline } from '../plane-outline.ts';
import { columnAt } from '../touch/column.ts';
import { handOver } from '../touch/hand-over.ts';
import { touchOf } from '../touch/touch.ts';

/**
 * A seam where two parts touch: their flat faces that look at each other carry the joints, and nothing is cut. Where they
 * overlap, one of them is trimmed by the other first.
 */
export const contactKind: SeamKind<ContactSpec> = {
  cut(kernel, [front, back], by, seamId, place) {
    const nesting = nestingOf(by) as Nesting;
    const { flat } = nesting;
    const asksToGive = nesting.gives !== null || nesting.gapMm > 0;
    const touching = asksToGive || flat ? [] : findContacts(kernel, front, back, place.middle);
    if (touching.length > 0) return joined(front, back, touching, seamId);
    const of = joinedBy(by) ?? ['', ''];
    const called = { seamId, originMm: place.originMm, of };
    const across = flat && flatPlane(flat, apart(front, back), place);
    const nested = nest(kernel, front, back, nesting, across, called);
    if (nested && (!across || hasRoom(nested.parts, across, seamId, place)))
      return nestedCut(kernel, { front, back }, nested, nesting, across, seamId, place);
    if (!nested && asksToGive) throw new PegwrightError('seam-without-overlap', { seamId, of });
    // With a gap between them nothing lies against the other.
    const touched = nesting.gapMm === 0 && touchedCut(kernel, { front, back }, nesting, called, place);
    if (touched) return touched;
    if (nested) return nestedCut(kernel, { front, back }, nested, nesting, across, seamId, place);
    throw new PegwrightError('seam-without-contact', { seamId, of });
  },
  // Without a flat it lies where its bodies do: no hand moves it.
  outline(kernel, [front, back], { flat }, place) {
    const { middle } = place;
    if (!flat || !back) return [];
    const across = flatPlane(flat, apart(front, back), place);
    const [one, other] = [front, back].map((part) => planeOutline(part, across, middle));
    const shared = commonRegion(kernel, one.loops, other.loops);
    if (isRoomy(shared)) return [{ frame: one.frame, loops: shared, uncut: [] }];
    const touch = touchOf(front, back);
    const frame = planeFrame(flatPlane(flat, touch.axis ?? apart(front, back), place), middle);
    const column = columnAt(kernel, { front, back }, touch, frame);
    return [{ frame, loops: column?.regions.flat() ?? [], uncut: [] }];
  },
  follow: (_, __, by) => by,
  narrowest: () => null,
  squared: () => null,
};

/** Two parts joined by the flat faces in which they touch. */
function joined(front: Part, back: Part, contacts: readonly Contact[], seamId: string): Cut {
  return {
    way: 'local',
    front: withFaces(
      front,
      seamId,
      contacts.map((contact) => contact.front),
    ),
    back: withFaces(
      back,
      seamId,
      contacts.map((contact) => contact.back),
    ),
    facets: contacts.map((contact) => ({
      frame: contact.frame,
      uncut: [],
      contact: { shared: contact.shared, planes: planesOf(contact) },
    })),
    draw: { axis: contacts[0].frame.n, isClear: false, playMm: TOLERANCES.contact },
  };
}

/**
 * Two parts of which one follows the other: joints stand on the flat that was set across, else on flat faces across the
 * way they come apart, if they meet in some.
 */
function nestedCut(
  kernel: Kernel,
  before: Readonly<Record<Side, Part>>,
  nested: Nested,
  { gapMm, rimMm }: Nesting,
  flat: Plane | null,
  seamId: string,
  { middle }: SculptPlace,
): Cut {
  const { gives, parts, areaMm2 } = nested;
  const { front, back } = parts;
  const axis = flat?.normal ?? nested.axis ?? apart(front, back);
  const facts = { gives, gapMm, rimMm, before, after: parts, areaMm2, middle: nested.middle };
  const draw = { axis, isClear: false, playMm: TOLERANCES.noWall };
  const bare: Facet = { frame: planeFrame(flat ?? plane(axis, dot(axis, nested.middle)), middle), uncut: [] };
  const contacts = flat ? [] : findContacts(kernel, front, back, middle, axis);
  const cut = contacts.length > 0 ? joined(front, back, contacts, seamId) : { front, back, facets: [bare] };
  return { ...cut, way: 'kernel', nest: facts, draw };
}

/**
 * Two parts that touch on surface of whatever shape: on a flat that was set across they meet in faces, where one of them has
 * material between the flat and the other. What they overlap by is trimmed off first. Null where they do not touch, or
 * overlap and do not come to meet on a flat: those are as they nest.
 */
function touchedCut(
  kernel: Kernel,
  before: Readonly<Record<Side, Part>>,
  nesting: Nesting,
  called: Pick<Trim, 'seamId' | 'originMm'> & { of: readonly [string, string] },
  place: SculptPlace,
): Cut | null {
  const { middle } = place;
  const { flat, gapMm, rimMm } = nesting;
  const touch = touchOf(before.front, before.back);
  const { areaMm2 } = touch;
  if (areaMm2 < TOLERANCES.contactArea) return null;
  const nested = nest(kernel, before.front, before.back, nesting, null, called);
  const { front, back } = nested?.parts ?? before;
  const way = touch.axis ?? apart(front, back);
  const across = flat ? flatPlane(flat, way, place) : plane(way, dot(way, touch.middle));
  const flattened = flat && handOver(kernel, { front, back }, touch, across, { ...called, middle });
  if (nested && !flattened) return null;
  const facts = nested && { gives: nested.gives, gapMm, rimMm, before, after: nested.parts };
  return {
    way: flattened ? 'kernel' : 'local',
    ...(flattened?.parts ?? { front, back }),
    facets: [{ frame: planeFrame(across, middle), uncut: [] }],
    ...(nested && facts && { nest: { ...facts, areaMm2: nested.areaMm2, middle: nested.middle } }),
    touch: { areaMm2, middle: touch.middle, handed: flattened ? flattened.handed : null },
    draw: { axis: across.normal, isClear: false, playMm: TOLERANCES.noWall },
  };
}

/** True where both parts have a face on a flat that a joint may have room on: more than the rim of a slit. */
const hasRoom = (
  { front, back }: Readonly<Record<Side, Part>>,
  flat: Plane,
  seamId: string,
  { middle }: SculptPlace,
): boolean =>
  (
    [
      [front, 'front'],
      [back, 'back'],
    ] as const
  ).every(([part, side]) => isRoomy(findFace(part, seamId, 0, planeFrame(flat, middle), side)?.loops ?? []));

/** From the middle of the back part's box to that of the front part's. */
function apart(front: Part, back: Part): Vec3 {
  const [to, from] = [front, back].map((part) => middleOf(partFacts(part).bounds));
  const way = sub(to, from);
  return plane(Math.hypot(...way) > 0 ? way : [0, 0, 1], 0).normal;
}

/** The plane of a flat in recentred mm, its normal turned along the way from the back part to the front one. */
function flatPlane({ at, normal }: SeamFlat, toFront: Vec3, { originMm }: SculptPlace): Plane {
  const through = sub(at, originMm);
  const { normal: n } = plane(normal, 0);
  const way = dot(n, toFront) < 0 ? scale(n, -1) : n;
  return { normal: way, offset: dot(way, through) };
}

/** Where each side's own face lies, seen from the front of the seam. */
const planesOf = ({ front, back }: Contact): { front: Plane; back: Plane } => ({
  front: turned(front[0].plane),
  back: back[0].plane,
});

/**
 * The part with flat faces, those of each facet, told from its skin; one that is another seam's already is both's. Not a
 * triangle changes.
 */
function withFaces(part: Part, seamId: string, facets: readonly (readonly FlatFace[])[]): Part {
  const faces = facets.flat();
  const left = part.patches.flatMap(({ of, triangles }, i): Patch[] => {
    const gone = new Set(faces.flatMap(({ places }) => places.get(i) ?? []));
    return gone.size === triangles.length / 3 ? [] : [{ of, triangles: without(triangles, gone) }];
  });
  const faced = patchesOf(facets).map(({ numbers, own }): Patch => {
    const before = own
      .flatMap(({ places }) => [...places.keys()])
      .flatMap((i) => facetsOf(part.patches[i].of));
    const ids = [...before, ...numbers.map((facet) => ({ seamId, facet }))];
    const [{ seamId: first, facet }, ...also] = ids;
    const of: FacetOf = { kind: 'face', seamId: first, facet };
    const triangles = Uint32Array.from(own.flatMap((face) => [...face.triangles]));
    return { of: also.length > 0 ? { ...of, also } : of, triangles };
  });
  return { ...part, patches: [...left, ...faced] };
}

/** The facets by their numbers, with the faces they have; those that share one are together. */
function patchesOf(facets: readonly (readonly FlatFace[])[]): { numbers: number[]; own: FlatFace[] }[] {
  let patches: { numbers: number[]; own: FlatFace[] }[] = [];
  facets.forEach((faces, number) => {
    const shares = ({ own }: { own: FlatFace[] }) => own.some((face) => faces.includes(face));
    const together = patches.filter(shares);
    const own = [...new Set([...together.flatMap((one) => one.own), ...faces])];
    const numbers = [...together.flatMap((one) => one.numbers), number];
    patches = [...patches.filter((one) => !shares(one)), { numbers, own }];
  });
  return patches;
}

/** Triangles but those at these places; the same ones where there are none. */
function without(triangles: Uint32Array, gone: ReadonlySet<number>): Uint32Array {
  if (gone.size === 0) return triangles;
  const left = new Uint32Array(triangles.length - gone.size * 3);
  let used = 0;
  for (let at = 0; at < triangles.length; at += 3) {
    if (gone.has(at)) continue;
    left.set(triangles.subarray(at, at + 3), used);
    used += 3;
  }
  return left;
}
