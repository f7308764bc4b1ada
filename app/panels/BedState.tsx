import { ToggleButton } from 'react-aria-components';
import type { EvaluationView } from '../../src/index.ts';
import { partInBed } from '../state/build-volume.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';

const bedOf = (view: EvaluationView | null, id: string) => view?.parts.find((part) => part.id === id)?.bed;

interface BedStateProps {
  id: string;
  name: string;
  isHidden: boolean;
}

/** How a part does on the bed, in a word; pressed, the build volume is shown around it while it is seen. Nothing before that is known. */
export function BedState({ id, name, isHidden }: BedStateProps) {
  const actions = useActions();
  const fits = useBench((s) => bedOf(s.derived.view, id)?.fits ?? null);
  const overMm = useBench((s) => bedOf(s.derived.view, id)?.overMm ?? 0);
  const isAround = useBench((s) => partInBed(s)?.id === id);
  if (fits === null) return null;
  const state = words.bedState[fits](overMm);
  return (
    <ToggleButton
      className="part-toggle part-bed"
      data-fits={fits}
      aria-label={words.bedAround(state, name)}
      isSelected={isAround}
      isDisabled={isHidden}
      onChange={(is) => actions.showBed(is, id)}
    >
      {state}
    </ToggleButton>
  );
}
