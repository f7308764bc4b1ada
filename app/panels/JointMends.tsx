import { Button } from 'react-aria-components';
import type { JointMend } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { setJoint } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';

/** Changes that bring a joint clear: looked for when that is asked, each told with what it gives before it is made. */
export function JointMends({ seamId, jointId }: { seamId: string; jointId: string }) {
  const actions = useActions();
  const mends = useBench((s) => {
    const { jointMends } = s.derived;
    const isOfIt = jointMends?.seamId === seamId && jointMends.jointId === jointId;
    return isOfIt && jointMends.job === jobOf(s) ? jointMends.mends : null;
  });
  const isBusy = useBench((s) => s.derived.busy !== null);
  if (mends === null) {
    return (
      <Button
        className="finding-remedy"
        isDisabled={isBusy}
        onPress={() => void actions.seekJointMends(seamId, jointId)}
      >
        {words.seekMends}
      </Button>
    );
  }
  if (mends.length === 0) return <p className="finding-remedy soft">{words.noMends}</p>;
  return mends.map((mend, i) => (
    <Button
      key={i}
      className="finding-remedy"
      onPress={() => actions.apply((job) => setJoint(job, seamId, jointId, patchOf(mend)))}
    >
      {words.jointMend(changesOf(mend), mend.wallMm)}
    </Button>
  ));
}

const patchOf = ({ sizes, moved }: JointMend) => ({
  ...Object.fromEntries(sizes.map(({ name, mm }) => [name, mm])),
  ...(moved && { at: moved.at }),
});

const changesOf = ({ sizes, moved }: JointMend): string[] => [
  ...sizes.map(({ name, mm, nowMm }) => words.sizeInstead(name, mm, nowMm)),
  ...(moved ? [words.movedOnFace(moved.byMm)] : []),
];
