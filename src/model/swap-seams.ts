import { joinedBy, renamedJoin } from './contact-seam.ts';
import type { Job, Seam } from './job.ts';
import { partId, partRef, type Side } from './part-ref.ts';

type Seams = Job['seams'];

/** A part that goes by another id once seams have changed places. */
export interface RenamedPart {
  was: string;
  /** What it is now. Its old id is that of a part which seams divide. */
  is: string;
}

/** The seams with the one at `later` a place earlier, before the one that was ahead of it; nothing else changes. */
export const swapSeams = (seams: Seams, later: number): Seams =>
  seams.map((seam, i) => (i === later - 1 ? seams[later] : i === later ? seams[later - 1] : seam));

/** The side of the seam before it that a seam divides; null where it divides something else, or one of the two joins parts. */
export function dividedSide(seams: Seams, later: number): Side | null {
  const [first, second] = [seams[later - 1], seams[later]];
  if (joinedBy(first.by) !== null || joinedBy(second.by) !== null) return null;
  const part = partRef(second.of);
  return part?.of === 'seam' && part.seamId === first.id ? part.side : null;
}

/**
 * The same of two that divide one part in three, the later one a `side` of the earlier: it divides the part, and the other
 * its `between`. So the piece between them, which was of the later seam, is of the other from then on: its name and all that
 * refers to it follow. What takes its id is the later seam's side that the other divides, named as the side was that is no more.
 */
export function turnSeamsOver(
  seams: Seams,
  later: number,
  side: Side,
  between: Side,
): { seams: Seams; renamed: RenamedPart } {
  const [first, second] = [seams[later - 1], seams[later]];
  const was = partId({ of: 'seam', seamId: second.id, side: between });
  const is = partId({ of: 'seam', seamId: first.id, side });
  const follow = (id: string) => (id === was ? is : id === is ? was : id);
  const turned = swapSeams(seams, later).map((seam): Seam => {
    if (seam === second) {
      return { ...seam, of: first.of, names: { ...seam.names, [between]: first.names[side] } };
    }
    if (seam === first) return { ...seam, of: was, names: { ...seam.names, [side]: second.names[between] } };
    return { ...seam, of: follow(seam.of), by: renamedJoin(seam.by, follow) };
  });
  return { seams: turned, renamed: { was, is } };
}
