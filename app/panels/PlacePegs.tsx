import { Button } from 'react-aria-components';
import { useActions } from '../state/workbench.tsx';
import { words } from '../words.ts';
import './PlacePegs.css';

/** As many as are offered: more than four seldom find room, and hold no better. */
const COUNTS = [1, 2, 3, 4];

/** Gives a seam so many pegs in place of its own, where the engine finds most wall for them. */
export function PlacePegs({ seamId }: { seamId: string }) {
  const actions = useActions();
  return (
    <fieldset className="place-pegs wide">
      <legend>{words.placePegs}</legend>
      {COUNTS.map((count) => (
        <Button
          key={count}
          aria-label={words.placePegsOf(count)}
          onPress={() => void actions.placeJoints(seamId, count)}
        >
          {count}
        </Button>
      ))}
    </fieldset>
  );
}
