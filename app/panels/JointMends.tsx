import type { JointMend } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { setJoint } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { SoughtMends } from './SoughtMends.tsx';

/** Changes that bring a joint clear: looked for when that is asked, each told with what it gives before it is made. */
export function JointMends({ seamId, jointId }: { seamId: string; jointId: string }) {
  const actions = useActions();
  const mends = useBench((s) => {
    const { jointMends } = s.derived;
    const isOfIt = jointMends?.seamId === seamId && jointMends.jointId === jointId;
    return isOfIt && jointMends.job === jobOf(s) ? jointMends.mends : null;
  });
  return (
    <SoughtMends
      mends={mends}
      seekText={words.seekMends}
      noneText={words.noMends}
      textOf={(mend) => words.jointMend(changesOf(mend), mend.wallMm)}
      onSeek={() => void actions.seekJointMends(seamId, jointId)}
      onChoose={(mend) => actions.apply((job) => setJoint(job, seamId, jointId, patchOf(mend)))}
    />
  );
}

const patchOf = ({ sizes, moved }: JointMend) => ({
  ...Object.fromEntries(sizes.map(({ name, mm }) => [name, mm])),
  ...(moved && { at: moved.at }),
});

const changesOf = ({ sizes, moved }: JointMend): string[] => [
  ...sizes.map(({ name, mm, nowMm }) => words.sizeInstead(name, mm, nowMm)),
  ...(moved ? [words.movedOnFace(moved.byMm)] : []),
];
