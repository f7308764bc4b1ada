import { Button } from 'react-aria-components';
import { type OneWayMend, setJoints } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';

/** Changes after which a seam's parts go together in one way only: looked for when that is asked, each told before it is made. */
export function OneWayMends({ seamId }: { seamId: string }) {
  const actions = useActions();
  const mends = useBench((s) => {
    const { oneWayMends } = s.derived;
    return oneWayMends?.seamId === seamId && oneWayMends.job === jobOf(s) ? oneWayMends.mends : null;
  });
  const isBusy = useBench((s) => s.derived.busy !== null);
  if (mends === null) {
    return (
      <Button className="finding-remedy" isDisabled={isBusy} onPress={() => void actions.seekOneWay(seamId)}>
        {words.seekOneWay}
      </Button>
    );
  }
  if (mends.length === 0) return <p className="finding-remedy soft">{words.noOneWay}</p>;
  return mends.map((mend, i) => (
    <Button
      key={i}
      className="finding-remedy"
      onPress={() => actions.apply((job) => setJoints(job, seamId, mend.joints))}
    >
      {words.oneWayMend(nameOf(mend), changesOf(mend), mend.wallMm)}
    </Button>
  ));
}

const nameOf = ({ joints, jointId, isAdded }: OneWayMend): string =>
  isAdded ? words.oneMorePeg : words.peg(joints.findIndex(({ id }) => id === jointId) + 1);

const changesOf = ({ changes }: OneWayMend): string[] =>
  changes.map(({ name, to, now }) => words.changedSize(name, to, now));
