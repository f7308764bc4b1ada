import {
  type AskedJoint,
  jointKind,
  type Process,
  type SeamResult,
  type SettledJoint,
} from '../../src/index.ts';

/** A joint of a seam with every size settled; null where it has no place yet. */
export interface KnownJoint {
  id: string;
  settled: SettledJoint | null;
}

/**
 * A seam's joints with every size settled: what the job says now over what the engine last settled. Null where the
 * engine has not placed one, or where it settled another kind.
 */
export const settledJoints = (
  joints: readonly AskedJoint[],
  result: SeamResult,
  process: Process,
): KnownJoint[] =>
  joints.map((asked) => {
    const last = result.joints.find(({ settled }) => settled.id === asked.id)?.settled;
    if (last?.kind !== asked.kind) return { id: asked.id, settled: null };
    const own = jointKind(asked.kind).fields.map(
      ({ name }) => [name, asked[name] ?? process[name as keyof Process] ?? last[name]] as const,
    );
    const at = asked.at === 'auto' ? last.at : asked.at;
    return { id: asked.id, settled: { ...last, ...Object.fromEntries(own), at } };
  });
