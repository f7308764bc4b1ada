import { z } from 'zod';
import { LIMITS } from './limits.ts';

const within = ([low, high]: readonly [number, number]) => z.number().min(low).max(high);

/** One change of shape that a person agreed to. Lengths in mm, after unit and scale. */
export const mendSchema = z.discriminatedUnion('do', [
  /** Joins rims that lie no farther apart. */
  z.strictObject({ do: z.literal('weld'), toleranceMm: within(LIMITS.mendWeldMm) }),
  /** Closes every hole: with as little surface as may be, or bent on from what surrounds it. */
  z.strictObject({ do: z.literal('fill-holes'), how: z.enum(['flat', 'smooth']) }),
  /** Takes away shells whose box has a shorter diagonal. */
  z.strictObject({ do: z.literal('drop-specks'), belowMm: within(LIMITS.mendSpeckMm) }),
  /** Makes one of shells that overlap. */
  z.strictObject({ do: z.literal('unite') }),
  /** Puts a new skin around all of it, cut from a grid of such cells: the last resort. */
  z.strictObject({ do: z.literal('re-skin'), cellMm: within(LIMITS.reSkinCellMm) }),
]);

export type Mend = z.output<typeof mendSchema>;
