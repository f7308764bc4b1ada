import { jointKind } from '../joint/kinds.ts';
import type { JointShape, Sizes } from '../model/joint.ts';
import type { SeamResult } from './evaluation.ts';

/** Pieces of one kind and size (mm) that go into joints and come from elsewhere. */
export interface ToGet {
  kind: string;
  count: number;
  sizes: Sizes;
  /** The joints they are for. */
  joints: { seamId: string; jointId: string }[];
  /** They are parts as well, and may be printed in place of being got. */
  isPrintable: boolean;
}

/** All that is to be got for seams, equal pieces together, in the order of their joints. */
export function toGet(seams: readonly Pick<SeamResult, 'id' | 'joints'>[]): ToGet[] {
  const all: ToGet[] = [];
  for (const { id: seamId, joints } of seams)
    for (const { settled } of joints) {
      const one = toGetFor(settled);
      if (!one) continue;
      const like = all.find(({ kind, sizes }) => kind === one.kind && areEqual(sizes, one.sizes));
      const joint = { seamId, jointId: settled.id };
      if (like) {
        like.count += one.count;
        like.joints.push(joint);
      } else all.push({ ...one, joints: [joint] });
    }
  return all;
}

/** What is to be got for one joint; null where nothing is. */
export function toGetFor(shape: JointShape): Omit<ToGet, 'joints'> | null {
  const { supply, pieces } = jointKind(shape.kind);
  if (!supply) return null;
  const isPrintable = pieces(shape).some((piece) => piece.in === 'loose' && !piece.isBought);
  return { kind: shape.kind, ...supply(shape), isPrintable };
}

const areEqual = (a: Sizes, b: Sizes): boolean =>
  Object.entries(a).every(([name, mm]) => b[name as keyof Sizes] === mm);
