import { useEffect, useRef } from 'react';
import { Button } from 'react-aria-components';
import type { OrderStep } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { useSeamTitle } from './use-seam-title.ts';
import './SeamOrder.css';

/**
 * Where the chosen seam is among those of the job, which are cut in turn, and buttons to move it a place. They stand over the
 * tree and not in it, where a seam that is moved goes elsewhere and would take the focus away from under the finger.
 */
export function SeamOrder({ onMove }: { onMove: () => void }) {
  const actions = useActions();
  const seamId = useBench((s) => s.sitting.seamId);
  const title = useSeamTitle(seamId);
  const place = useBench((s) => jobOf(s).seams.findIndex(({ id }) => id === seamId));
  const count = useBench((s) => jobOf(s).seams.length);
  const earlier = useRef<HTMLButtonElement>(null);
  const later = useRef<HTMLButtonElement>(null);
  const pressed = useRef<OrderStep | null>(null);
  // At an end the button that was pressed is no more to be pressed: the other one is next.
  useEffect(() => {
    if (pressed.current === 'earlier' && place === 0) later.current?.focus();
    if (pressed.current === 'later' && place === count - 1) earlier.current?.focus();
    pressed.current = null;
  }, [place, count]);
  if (seamId === null || title === null || count < 2) return null;
  const move = (step: OrderStep) => {
    pressed.current = step;
    onMove();
    void actions.moveSeam(seamId, step);
  };
  return (
    <div className="seam-order">
      <span className="soft" title={title} data-testid="seam-order">
        {words.cutPlace(title, place + 1, count)}
      </span>
      <Button
        ref={earlier}
        aria-label={words.cutEarlier(title)}
        isDisabled={place === 0}
        onPress={() => move('earlier')}
      >
        {words.earlier}
      </Button>
      <Button
        ref={later}
        aria-label={words.cutLater(title)}
        isDisabled={place === count - 1}
        onPress={() => move('later')}
      >
        {words.later}
      </Button>
    </div>
  );
}
