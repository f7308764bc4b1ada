import type { Job, Seam } from './job.ts';
import { type PartRef, partId, SCULPT, type Side } from './part-ref.ts';

/** A part, and the seam that divides it, if one does. */
export interface PartNode {
  ref: PartRef;
  /** As a job writes the reference. */
  id: string;
  /** What a person calls it; null for the sculpt, which goes by its file. */
  name: string | null;
  seam: SeamNode | null;
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

/** Reads off a job's seams, which divide in order, which of them divides which part. */
export function partTree({ seams }: Pick<Job, 'seams'>): PartTree {
  const root = partNode(SCULPT, null);
  const whole = new Map([[root.id, root]]);
  const astray: Seam[] = [];
  for (const seam of seams) {
    const divided = whole.get(seam.of);
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
});

/** The parts that no seam divides, in the order of the tree: front before back. */
export const undivided = (node: PartNode): PartNode[] =>
  node.seam === null ? [node] : [...undivided(node.seam.front), ...undivided(node.seam.back)];
