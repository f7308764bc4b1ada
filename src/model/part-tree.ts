import { joinedBy } from './contact-seam.ts';
import type { Job, Seam } from './job.ts';
import { partLookup } from './part-lookup.ts';
import { bodyIds, type PartRef, partId, partRef, SCULPT, type Side } from './part-ref.ts';

/** A part, and the seam that divides it, if one does. */
export interface PartNode {
  ref: PartRef;
  /** As a job writes the reference. */
  id: string;
  /** What a person calls it; null for the sculpt and its bodies, which go by their file. */
  name: string | null;
  seam: SeamNode | null;
  /** The bodies it is taken apart into, as happens to a sculpt of which seams divide single bodies; none otherwise. */
  bodies: PartNode[];
}

export interface SeamNode {
  seam: Seam;
  /** What it makes. */
  front: PartNode;
  back: PartNode;
}

/** How a job divides its sculpt. */
export interface PartTree {
  root: PartNode;
  /** Seams that divide nothing, in order: each joins two parts that touch, which go by its sides from then on. */
  joining: Seam[];
  /** Seams, in order, that wait: their part is not there, for another has divided it or nothing makes it, or they miss it. */
  astray: Seam[];
}

/**
 * Reads off a job's seams, which go in order, which of them divides which part. The first that divides a body, or joins
 * two, takes the sculpt apart into its bodies, by their names ('' for none). What only geometry shows comes from elsewhere:
 * seams that are `known` to wait, by their ids.
 */
export function partTree(
  { seams }: Pick<Job, 'seams'>,
  bodies: readonly string[],
  known: readonly string[] = [],
): PartTree {
  const root = partNode(SCULPT, null);
  let whole = new Map([[root.id, root]]);
  const joining: Seam[] = [];
  const astray: Seam[] = [];
  let lookup = partLookup([]);
  for (const seam of seams) {
    // A seam that waits leaves everything as it is: the sculpt is not taken apart for it either.
    const isApart = needsBodies(seam) && whole.has(root.id);
    const own = isApart ? bodyIds(bodies).map((id) => partNode(partRef(id) ?? SCULPT, null)) : [];
    const called = isApart ? partLookup(bodies) : lookup;
    const there = isApart ? new Map(own.map((body) => [body.id, body])) : whole;
    const of = partsOf(seam).map((named) => there.get(called.idOf(named)));
    const [first, second] = of;
    if (known.includes(seam.id) || of.includes(undefined) || !first || first === second) {
      astray.push(seam);
      continue;
    }
    if (isApart) {
      root.bodies = own;
      whole = there;
      lookup = called;
    }
    const sideOf = (side: Side): PartRef => ({ of: 'seam', seamId: seam.id, side });
    for (const { id } of [first, second ?? first]) whole.delete(id);
    if (second) {
      joining.push(seam);
      for (const [part, side] of [
        [first, 'front'],
        [second, 'back'],
      ] as const) {
        const ref = sideOf(side);
        lookup.rename(part.id, partId(ref));
        Object.assign(part, { ref, id: partId(ref), name: seam.names[side] });
        whole.set(part.id, part);
      }
      continue;
    }
    const made = (side: Side) => partNode(sideOf(side), seam.names[side]);
    first.seam = { seam, front: made('front'), back: made('back') };
    for (const part of [first.seam.front, first.seam.back]) whole.set(part.id, part);
  }
  return { root, joining, astray };
}

const partNode = (ref: PartRef, name: string | null): PartNode => ({
  ref,
  id: partId(ref),
  name,
  seam: null,
  bodies: [],
});

/** The part that a seam divides, or the two that it joins, front first, as its job refers to them. */
export const partsOf = ({ of, by }: Seam): readonly string[] => joinedBy(by) ?? [of];

/** True where a seam is about bodies of the sculpt, or about what was made of them, and not about the sculpt as a whole. */
export const needsBodies = (seam: Seam): boolean =>
  joinedBy(seam.by) !== null || partRef(seam.of)?.of === 'body';

/** The parts that no seam divides, in the order of the tree: front before back. */
export function undivided(node: PartNode): PartNode[] {
  if (node.seam) return [...undivided(node.seam.front), ...undivided(node.seam.back)];
  return node.bodies.length > 0 ? node.bodies.flatMap(undivided) : [node];
}
