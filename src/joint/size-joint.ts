import type { Process } from '../model/job.ts';
import { type AskedJoint, type JointField, type JointShape, liesAlongFace } from '../model/joint.ts';
import { jointKind } from './kinds.ts';
import { reachAtFace } from './parallel-body.ts';

/** A joint takes about this share of the free circle's radius as its width: room for the walls on both sides. */
const WIDTH_SHARE = 0.9;

/** The shape of a joint that may be so wide (mm): what the person set stays, the rest follows. */
export const jointShape = (
  asked: AskedJoint,
  process: Process,
  widthMm: number,
  lengthShare = 1,
): JointShape => jointKind(asked.kind).settle(asked, process, { widthMm, lengthShare });

/** Radius of the circle about a joint's axis that goes around all it takes away at the face, mm. */
const reachOf = (shape: JointShape): number =>
  Math.max(
    ...jointKind(shape.kind)
      .pieces(shape)
      .map(({ body }) => reachAtFace(body)),
  );

/** The width (mm) a joint takes in a free circle of this radius so that the process's wall is left around it. */
export function widthFor(asked: AskedJoint, process: Process, radius: number): number {
  let low = 0;
  let high = radius * WIDTH_SHARE;
  const fits = (width: number) => reachOf(jointShape(asked, process, width)) <= radius - process.minWallMm;
  if (fits(high)) return high;
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** True for a shape that can be made and ends no thinner than the wall the process asks for. */
export function isPrintable(shape: JointShape, process: Process): boolean {
  const kind = jointKind(shape.kind);
  return kind.fault(shape) === null && kind.tipMm(shape) >= process.minWallMm;
}

/** Wider than any joint is, mm. */
const WIDEST_MM = 1000;

/** The least width a joint of these settings may have at the face, mm; null where none would do. */
export function leastWidth(asked: AskedJoint, process: Process): number | null {
  for (let width = process.minWallMm || 0.1; width < WIDEST_MM; width *= 1.02)
    if (isPrintable(jointShape(asked, process, width), process)) return width;
  return null;
}

/** What of a joint's kind lies along the face. */
const alongFace = ({ kind }: AskedJoint): JointField[] => jointKind(kind).fields.filter(liesAlongFace);

/** The widest that a joint's own sizes make it at the face, mm: of what its fields say along the face; 0 where they say nothing. */
export const askedWidth = (asked: AskedJoint): number =>
  Math.max(0, ...alongFace(asked).map(({ name }) => asked[name] ?? 0));

/** The joint without sizes along the face of its own. */
export function unsized(asked: AskedJoint): AskedJoint {
  const own: string[] = alongFace(asked).map(({ name }) => name);
  const left = Object.entries(asked).filter(([name]) => !own.includes(name));
  return Object.fromEntries(left) as unknown as AskedJoint;
}

/** True where its width is given: it takes no more room than that, wherever it stands. */
export function isSized(asked: AskedJoint): boolean {
  const [first] = alongFace(asked);
  return first !== undefined && asked[first.name] !== undefined;
}
