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
import type { Cut, Facet } from '../cut.ts';
import type { SculptPlace, SeamKind } from '../kind.ts';
import { type Nested, nest } from '../nest/nest.ts';
import { planeOutline } from '../plane-outline.ts';

/**
 * A seam where two parts touch: their flat faces that look at each other carry the joints, and nothing is cut. Where they
 * overlap, one of them is trimmed by the other first.
 */
export const contactKind: SeamKind<ContactSpec> = {
  cut(kernel, [front, back], by, seamId, place) {
    const nesting = nestingOf(by) as Nesting;
    const asksToNest = nesting.gives !== null || nesting.gapMm > 0 || nesting.flat !== null;
    const touching = asksToNest ? [] : findContacts(kernel, front, back, place.middle);
    if (touching.length > 0) return joined(front, back, touching, seamId);
    const flat = nesting.flat && flatPlane(nesting.flat, front, back, place);
    const of = joinedBy(by) ?? ['', ''];
    const nested = nest(kernel, front, back, nesting, flat, { seamId, originMm: place.originMm, of });
    if (nested) return nestedCut(kernel, { front, back }, nested, nesting, flat, seamId, place);
    throw asksToNest
      ? new PegwrightError('seam-without-overlap', { seamId, of })
      : new PegwrightError('seam-without-contact', { seamId, of });
  },
  // Without a flat it lies where its bodies do: no hand moves it.
  outline(kernel, [front, back], { flat }, place) {
    const { middle } = place;
    if (!flat || !back) return [];
    const across = flatPlane(flat, front, back, place);
    const [one, other] = [front, back].map((part) => planeOutline(part, across, middle));
    return [{ frame: one.frame, loops: commonRegion(kernel, one.loops, other.loops), uncut: [] }];
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
  const facts = { gives, gapMm, rimMm, before, areaMm2, middle: nested.middle };
  const draw = { axis, isClear: false, playMm: TOLERANCES.noWall };
  const bare: Facet = { frame: planeFrame(flat ?? plane(axis, dot(axis, nested.middle)), middle), uncut: [] };
  const contacts = flat ? [] : findContacts(kernel, front, back, middle, axis);
  const cut = contacts.length > 0 ? joined(front, back, contacts, seamId) : { front, back, facets: [bare] };
  return { ...cut, way: 'kernel', nest: facts, draw };
}

/** From the middle of the back part's box to that of the front part's. */
function apart(front: Part, back: Part): Vec3 {
  const [to, from] = [front, back].map((part) => middleOf(partFacts(part).bounds));
  const way = sub(to, from);
  return plane(Math.hypot(...way) > 0 ? way : [0, 0, 1], 0).normal;
}

/** The plane of a flat in recentred mm, its normal turned to where the front part's middle lies. */
function flatPlane({ at, normal }: SeamFlat, front: Part, back: Part, { originMm }: SculptPlace): Plane {
  const through = sub(at, originMm);
  const { normal: n } = plane(normal, 0);
  const way = dot(n, apart(front, back)) < 0 ? scale(n, -1) : n;
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
