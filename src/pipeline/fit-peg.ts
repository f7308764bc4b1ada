import type { Misfit } from '../check/finding.ts';
import { jointsMeet } from '../joint/joints-meet.ts';
import { isPrintable, leastWidth, type PegShape, pegShape, tipOf, widthFor } from '../joint/size-peg.ts';
import type { Peg, Process } from '../model/job.ts';
import type { PlacedJoint, SettledPeg } from './settled.ts';

/** Shares of the preferred width and length that an auto peg may shrink to before it is given up. */
const WIDTH_SHARES = [1, 0.85, 0.72, 0.6, 0.5, 0.42, 0.35, 0.28, 0.22, 0.17];
const LENGTH_SHARES = [1, 0.75, 0.5];

/**
 * The largest peg at a place that leaves the wall the process asks for, or what is short where none that can be
 * printed does. `radius` is that of the free circle there, mm; 0 where there is no place.
 */
export function fitPeg(
  peg: Peg,
  process: Process,
  others: readonly PlacedJoint[],
  radius: number,
  settle: (shape: PegShape) => SettledPeg,
): SettledPeg | Misfit {
  const widest = widthFor(peg, process, radius);
  let bestWallMm = 0;
  let isBlocked = false;
  let wasTried = false;
  for (const widthShare of WIDTH_SHARES) {
    for (const lengthShare of LENGTH_SHARES) {
      const shape = pegShape(peg, process, widest * widthShare, lengthShare);
      if (radius === 0 || !isPrintable(shape, process)) continue;
      wasTried = true;
      const settled = settle(shape);
      const { pegSeating, socketSeating } = settled;
      if (socketSeating.insideFace) bestWallMm = Math.max(bestWallMm, socketSeating.wall.mm);
      if (!pegSeating.local || !socketSeating.local) continue;
      if (socketSeating.wall.mm < process.minWallMm - 1e-6) continue;
      if (!meetsAny(settled, others, process.minWallMm)) return settled;
      isBlocked = true;
    }
  }
  const { minWallMm } = process;
  if (isBlocked) return { reason: 'joints', minWallMm };
  return sizeMisfit(peg, process, radius, wasTried) ?? { reason: 'depth', bestWallMm, minWallMm };
}

export const isMisfit = (fitted: SettledPeg | Misfit): fitted is Misfit => 'reason' in fitted;

/** What is wrong with the sizes themselves, or with the face for them; null where it is neither. */
function sizeMisfit(peg: Peg, process: Process, radius: number, wasTried: boolean): Misfit | null {
  const { minWallMm } = process;
  const askedMm = Math.max(peg.widthMm ?? 0, peg.heightMm ?? 0);
  const neededWidthMm = leastWidth(peg, process);
  if (neededWidthMm === null) {
    const shape = pegShape(peg, process, askedMm);
    const slope = 2 * Math.tan((shape.draftDeg * Math.PI) / 180);
    const longestMm = Math.max(0, (Math.min(shape.widthMm, shape.heightMm) - minWallMm) / slope);
    return { reason: 'tip', tipMm: Math.max(0, tipOf(shape)), minWallMm, longestMm };
  }
  const { widthMm: _, heightMm: __, ...unsized } = peg;
  const bestWidthMm = widthFor(unsized, process, radius);
  if (askedMm > 0 && askedMm > bestWidthMm) return { reason: 'asked', askedMm, bestWidthMm, minWallMm };
  if (wasTried) return null;
  const asked = peg.lengthMm === undefined ? {} : { lengthMm: peg.lengthMm };
  return { reason: 'room', bestWidthMm, neededWidthMm, minWallMm, ...asked };
}

/** True where a peg or its socket leaves less than a wall (mm) to a joint in the same part. */
const meetsAny = (settled: SettledPeg, others: readonly PlacedJoint[], wallMm: number): boolean =>
  others.some(
    ({ partId, joint }) =>
      (partId === settled.pegHost.partId && jointsMeet(settled.pegJoint, joint, wallMm)) ||
      (partId === settled.socketHost.partId && jointsMeet(settled.socketJoint, joint, wallMm)),
  );
