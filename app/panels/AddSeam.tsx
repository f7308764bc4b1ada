import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import { jobOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { partsOnBench } from '../state/parts.ts';
import { useActions, useBench, useBenchStore } from '../state/workbench.tsx';
import { words } from '../words.ts';
import '../ui/popover.css';

/** A seam through the whole figure while there is none, else through one of its parts. */
export function AddSeam({ onAdded }: { onAdded: (seamId: string | null) => void }) {
  const actions = useActions();
  const store = useBenchStore();
  const hasSeams = useBench((s) => jobOf(s).seams.length > 0);
  const parts = useBench((s) => partsOnBench(s).map(({ id, name }) => ({ id, name })), isSame);
  const hasSculpt = useBench((s) => s.derived.summary !== null);
  const addTo = (partId: unknown) => {
    const now = partsOnBench(store.getState());
    onAdded(actions.addSeam(now.find(({ id }) => id === partId) ?? null));
  };
  if (!hasSeams) {
    return (
      <Button isDisabled={!hasSculpt} onPress={() => onAdded(actions.addSeam(null))}>
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
