import {
  type AskedJoint,
  type JointResult,
  jointKind,
  outlineIn,
  type Process,
  type SettledJoint,
  withOutline,
} from '../../src/index.ts';

/** A joint of a seam with every size settled; null where it has no place yet. */
export interface KnownJoint {
  id: string;
  settled: SettledJoint | null;
}

/**
 * A seam's joints with every size settled: what the job says now over what the engine last settled. Null where it is
 * not among those `measured`, or where the engine settled another kind.
 */
export const settledJoints = (
  joints: readonly AskedJoint[],
  measured: readonly JointResult[],
  process: Process,
): KnownJoint[] =>
  joints.map((asked) => {
    const last = measured.find(({ settled }) => settled.id === asked.id)?.settled;
    if (last?.kind !== asked.kind) return { id: asked.id, settled: null };
    const own = jointKind(asked.kind).fields.map(
      ({ name }) => [name, asked[name] ?? process[name as keyof Process] ?? last[name]] as const,
    );
    const at = asked.at === 'auto' ? last.at : asked.at;
    const settled = { ...last, ...Object.fromEntries(own), at };
    const outline = outlineIn(asked);
    return { id: asked.id, settled: outline ? withOutline(settled, outline) : settled };
  });
