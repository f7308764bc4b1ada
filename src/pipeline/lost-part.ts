import type { FindingFacts, LostPart } from '../check/finding.ts';
import { type ErrorRecord, toErrorRecord } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import type { Part } from '../mesh/part/part.ts';
import { joinedBy } from '../model/contact-seam.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';

/** What of a refusal says that a seam has nothing to cut, so that the rest of its job stands without it; null for any other. */
export function lostPart(thrown: unknown): LostPart | null {
  const refusal: ErrorRecord = toErrorRecord(thrown);
  switch (refusal.code) {
    case 'seam-misses':
      return { is: 'misses' };
    case 'seam-part-unknown': {
      const { of, dividedBy } = refusal.facts;
      return dividedBy === null ? { is: 'not-made', of } : { is: 'divided', of, by: dividedBy };
    }
    case 'seam-without-contact':
    case 'seam-without-overlap':
      return { is: 'no-contact', of: refusal.facts.of };
    default:
      return null;
  }
}

/** A part that is there to be divided, and what it is called. */
interface PartThere {
  id: string;
  name: string;
  part: Part;
}

/** What is told of a seam that waits: with the parts there are after all others that it would divide as it lies. */
export function waitingFacts(
  kernel: Kernel,
  by: SeamSpec,
  why: LostPart,
  parts: readonly PartThere[],
  place: SculptPlace,
): FindingFacts['seam-waits'] {
  const wouldDivide = ({ part }: PartThere) =>
    seamKind(by)
      .outline(kernel, [part], by, place)
      .some(({ loops }) => loops.length > 0);
  const instead = joinedBy(by) === null ? parts.filter(wouldDivide) : [];
  return { why, instead: instead.map(({ id, name }) => ({ id, name })) };
}
