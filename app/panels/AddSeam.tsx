import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import { partId, SCULPT } from '../../src/index.ts';
import { type BenchState, jobOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { partsOnBench } from '../state/parts.ts';
import { useActions, useBench, useBenchStore } from '../state/workbench.tsx';
import { words } from '../words.ts';
import '../ui/popover.css';

/** What a new seam may divide: a part, or while there are none the whole figure or one of its bodies. */
function dividable(state: BenchState) {
  const { summary } = state.derived;
  if (jobOf(state).seams.length > 0) return partsOnBench(state).filter(({ ofJoint }) => !ofJoint);
  if (summary === null) return [];
  const whole = { id: partId(SCULPT), name: words.wholeFigure, boundsMm: summary.boundsMm };
  return summary.solids.length > 1 ? [whole, ...summary.solids] : [whole];
}

/** A seam through the whole figure while it is all there is, else through what is chosen of it. */
export function AddSeam({ onAdded }: { onAdded: (seamId: string | null) => void }) {
  const actions = useActions();
  const store = useBenchStore();
  const hasSeams = useBench((s) => jobOf(s).seams.length > 0);
  const parts = useBench((s) => dividable(s).map(({ id, name }) => ({ id, name })), isSame);
  const addTo = (chosen: unknown) => {
    const part = dividable(store.getState()).find(({ id }) => id === chosen);
    onAdded(part ? actions.addSeam(part) : null);
  };
  if (!hasSeams && parts.length < 2) {
    return (
      <Button isDisabled={parts.length === 0} onPress={() => addTo(partId(SCULPT))}>
        {words.addSeam}
      </Button>
    );
  }
  return (
    <MenuTrigger>
      <Button isDisabled={parts.length === 0}>{words.addSeam}</Button>
      <Popover className="popover" placement="bottom end">
        <Menu items={parts} aria-label={words.addSeam} onAction={addTo}>
          {(part) => <MenuItem id={part.id}>{words.addSeamTo(part.name)}</MenuItem>}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
