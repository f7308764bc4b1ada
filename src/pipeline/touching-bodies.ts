import type { Kernel } from '../kernel/load.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { bodyIds } from '../model/part-ref.ts';
import { findContacts } from '../seam/contact/contacts.ts';
import { doCross } from '../seam/nest/do-cross.ts';
import { touchOf } from '../seam/touch/touch.ts';
import { bodiesIn, type SculptBody } from './bodies.ts';
import { placeOf } from './cut-step.ts';
import type { Sculpt } from './sculpt.ts';

/** Two bodies of a sculpt that touch, or overlap, by their ids. */
export interface TouchingBodies {
  /** The smaller one: what is put on. */
  front: string;
  back: string;
  /** Of all flat faces they share, else of all surface along which they touch; of bodies that overlap none. */
  areaMm2: number;
  /** They touch on curved surface alone. */
  curved: boolean;
  /** They overlap by more than counts as touching: one would give way to the other. */
  overlap: boolean;
}

/** All pairs of a sculpt's bodies that a seam could join where they touch or overlap, those that share most first. */
export function touchingBodies(kernel: Kernel, sculpt: Sculpt): TouchingBodies[] {
  const bodies = bodiesIn(sculpt);
  const ids = bodyIds(bodies.map(({ name }) => name));
  const { middle } = placeOf(sculpt);
  const mayOverlap = sculpt.overlaps.count > 0 || !sculpt.overlaps.complete;
  const found = bodies.flatMap((one, i) =>
    bodies.slice(0, i).flatMap((other, j): TouchingBodies[] => {
      const [small, large] = sizeOf(one) < sizeOf(other) ? [i, j] : [j, i];
      const contacts = findContacts(kernel, bodies[small].part, bodies[large].part, middle);
      const pair = { front: ids[small], back: ids[large] };
      if (contacts.length > 0) {
        const areaMm2 = contacts.reduce((sum, contact) => sum + contact.areaMm2, 0);
        return [{ ...pair, areaMm2, curved: false, overlap: false }];
      }
      if (mayOverlap && doCross(bodies[small].part, bodies[large].part))
        return [{ ...pair, areaMm2: 0, curved: false, overlap: true }];
      const { areaMm2 } = touchOf(bodies[small].part, bodies[large].part);
      return areaMm2 >= TOLERANCES.contactArea ? [{ ...pair, areaMm2, curved: true, overlap: false }] : [];
    }),
  );
  return found.sort((a, b) => b.areaMm2 - a.areaMm2);
}

/** Volume of a body's box, mm³. */
const sizeOf = ({ bounds: { min, max } }: SculptBody): number =>
  max.reduce((size, high, k) => size * (high - min[k]), 1);
