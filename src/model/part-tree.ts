import type { Job, Seam } from './job.ts';
import { bodyIds, knownId, type PartRef, partId, partRef, SCULPT, type Side } from './part-ref.ts';

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
  /** Seams, in order, whose part is not there to be divided: another has divided it, or nothing makes it. */
  astray: Seam[];
}

/**
 * Reads off a job's seams, which divide in order, which of them divides which part. The first that divides a body takes
 * the sculpt apart into its bodies, by their names ('' for none).
 */
export function partTree({ seams }: Pick<Job, 'seams'>, bodies: readonly string[]): PartTree {
  const root = partNode(SCULPT, null);
  const whole = new Map([[root.id, root]]);
  const astray: Seam[] = [];
  for (const seam of seams) {
    if (partRef(seam.of)?.of === 'body' && whole.delete(root.id)) {
      root.bodies = bodyIds(bodies).map((id) => partNode(partRef(id) ?? SCULPT, null));
      for (const body of root.bodies) whole.set(body.id, body);
    }
    const divided = whole.get(knownId(seam.of, bodies));
    if (!divided) {
      astray.push(seam);
      continue;
    }
    const made = (side: Side) => partNode({ of: 'seam', seamId: seam.id, side }, seam.names[side]);
    divided.seam = { seam, front: made('front'), back: made('back') };
    whole.delete(divided.id);
    for (const part of [divided.seam.front, divided.seam.back]) whole.set(part.id, part);
  }
  return { root, astray };
}

const partNode = (ref: PartRef, name: string | null): PartNode => ({
  ref,
  id: partId(ref),
  name,
  seam: null,
  bodies: [],
});

/** The parts that no seam divides, in the order of the tree: front before back. */
export function undivided(node: PartNode): PartNode[] {
  if (node.seam) return [...undivided(node.seam.front), ...undivided(node.seam.back)];
  return node.bodies.length > 0 ? node.bodies.flatMap(undivided) : [node];
}
