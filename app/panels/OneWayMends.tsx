import { type OneWayMend, setJoints } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { SoughtMends } from './SoughtMends.tsx';

/** Changes after which a seam's parts go together in one way only: looked for when that is asked, each told before it is made. */
export function OneWayMends({ seamId }: { seamId: string }) {
  const actions = useActions();
  const mends = useBench((s) => {
    const { oneWayMends } = s.derived;
    return oneWayMends?.seamId === seamId && oneWayMends.job === jobOf(s) ? oneWayMends.mends : null;
  });
  return (
    <SoughtMends
      mends={mends}
      seekText={words.seekOneWay}
      noneText={words.noOneWay}
      textOf={(mend) => words.oneWayMend(nameOf(mend), changesOf(mend), mend.wallMm)}
      onSeek={() => void actions.seekOneWay(seamId)}
      onChoose={(mend) => actions.apply((job) => setJoints(job, seamId, mend.joints))}
    />
  );
}

const nameOf = ({ joints, jointId, isAdded }: OneWayMend): string =>
  isAdded ? words.oneMorePeg : words.peg(joints.findIndex(({ id }) => id === jointId) + 1);

const changesOf = ({ changes }: OneWayMend): string[] =>
  changes.map(({ name, to, now }) => words.changedSize(name, to, now));
