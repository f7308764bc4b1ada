import type { Misfit } from '../check/finding.ts';
import { jointKind } from '../joint/kinds.ts';
import { askedWidth, isPrintable, jointShape, leastWidth, unsized, widthFor } from '../joint/size-joint.ts';
import type { Process } from '../model/job.ts';
import type { AskedJoint, JointShape } from '../model/joint.ts';
import { doMeet, type SeatedJoint, type SeatedPiece, taken } from './settled.ts';

/** Shares of the preferred width and length that an auto joint may shrink to before it is given up. */
const WIDTH_SHARES = [1, 0.85, 0.72, 0.6, 0.5, 0.42, 0.35, 0.28, 0.22, 0.17];
const LENGTH_SHARES = [1, 0.75, 0.5];

/**
 * The largest joint at a place that leaves the wall the process asks for, or what is short where none that can be
 * printed does. `radius` is that of the free circle there, mm; 0 where there is no place.
 */
export function fitJoint(
  asked: AskedJoint,
  process: Process,
  others: readonly SeatedPiece[],
  radius: number,
  settle: (shape: JointShape) => SeatedJoint,
): SeatedJoint | Misfit {
  const widest = widthFor(asked, process, radius);
  let bestWallMm = 0;
  let isBlocked = false;
  let wasTried = false;
  for (const widthShare of WIDTH_SHARES) {
    for (const lengthShare of LENGTH_SHARES) {
      const shape = jointShape(asked, process, widest * widthShare, lengthShare);
      if (radius === 0 || !isPrintable(shape, process)) continue;
      wasTried = true;
      const seated = settle(shape);
      const sockets = taken(seated).map(({ seating }) => seating);
      const wallMm = Math.min(...sockets.map(({ wall }) => wall.mm));
      if (sockets.every(({ insideFace }) => insideFace)) bestWallMm = Math.max(bestWallMm, wallMm);
      if (wallMm < process.minWallMm - 1e-6) continue;
      if (!seated.pieces.every(({ seating }) => seating.local)) continue;
      const meets = doMeet(seated.pieces, others, process.minWallMm);
      if (!meets) return seated;
      isBlocked = true;
    }
  }
  const { minWallMm } = process;
  if (isBlocked) return { reason: 'joints', minWallMm };
  return sizeMisfit(asked, process, radius, wasTried) ?? { reason: 'depth', bestWallMm, minWallMm };
}

export const isMisfit = (fitted: SeatedJoint | Misfit): fitted is Misfit => 'reason' in fitted;

/** What is wrong with the sizes themselves, or with the face for them; null where it is neither. */
function sizeMisfit(asked: AskedJoint, process: Process, radius: number, wasTried: boolean): Misfit | null {
  const { minWallMm } = process;
  const askedMm = askedWidth(asked);
  const neededWidthMm = leastWidth(asked, process);
  if (neededWidthMm === null) {
    const shape = jointShape(asked, process, askedMm);
    const kind = jointKind(asked.kind);
    const longestMm = kind.longestMm(shape, minWallMm);
    return { reason: 'tip', tipMm: Math.max(0, kind.tipMm(shape)), minWallMm, longestMm };
  }
  const bestWidthMm = widthFor(unsized(asked), process, radius);
  if (askedMm > 0 && askedMm > bestWidthMm) return { reason: 'asked', askedMm, bestWidthMm, minWallMm };
  if (wasTried) return null;
  const length = asked.lengthMm === undefined ? {} : { lengthMm: asked.lengthMm };
  return { reason: 'room', bestWidthMm, neededWidthMm, minWallMm, ...length };
}
