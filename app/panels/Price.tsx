import { Button } from 'react-aria-components';
import type { Derived } from '../state/bench-state.ts';
import { addMend } from '../state/sculpt-edits.ts';
import { useActions } from '../state/workbench.tsx';
import { lexicon, words } from '../words.ts';
import './Price.css';

interface PriceProps {
  tried: NonNullable<Derived['tried']>;
  onLeave: () => void;
}

/** What a change of shape that was tried would do, to be accepted or left. */
export function Price({ tried: { mend, trial }, onLeave }: PriceProps) {
  const actions = useActions();
  const isNothing = trial.repairs.length === 0;
  const accept = () => {
    onLeave();
    actions.apply((j) => addMend(j, mend));
  };
  const leave = () => {
    onLeave();
    actions.leaveTrial();
  };
  return (
    <section className="price" aria-label={words.price} data-testid="price" aria-live="polite">
      <h4>{words.price}</h4>
      {isNothing && <p>{words.wouldChangeNothing}</p>}
      {trial.repairs.map((repair) => (
        <p key={repair.code}>{lexicon.repair(repair)}</p>
      ))}
      {!isNothing && <p>{words.afterwards(trial.triangles, trial.solid)}</p>}
      <div className="row">
        <Button className="primary" isDisabled={isNothing} onPress={accept}>
          {words.accept}
        </Button>
        <Button onPress={leave}>{words.leaveIt}</Button>
      </div>
    </section>
  );
}
