import { PegwrightError } from '../../errors.ts';
import type { Plane } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { type FacetOf, facetsOf, type Part, type Patch } from '../../mesh/part/part.ts';
import { joinedBy, type SeamSpec } from '../../model/seam-spec.ts';
import { type Contact, findContacts } from '../contact/contacts.ts';
import { type FlatFace, turned } from '../contact/flat-faces.ts';
import type { SeamKind } from '../kind.ts';

type ContactSpec = SeamSpec & { kind: 'contact' };

/** A seam where two parts touch: their flat faces that look at each other carry the joints, and nothing is cut. */
export const contactKind: SeamKind<ContactSpec> = {
  cut(kernel, [front, back], by, seamId, place) {
    const contacts = findContacts(kernel, front, back, place.middle);
    if (contacts.length === 0)
      throw new PegwrightError('seam-without-contact', { seamId, of: joinedBy(by) ?? ['', ''] });
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
  },
  // It lies where its bodies do: no hand moves it.
  outline: () => [],
  follow: (_, __, by) => by,
  narrowest: () => null,
};

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
