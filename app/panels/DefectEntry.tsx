import { Button } from 'react-aria-components';
import type { Defect } from '../../src/index.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { lexicon, words } from '../words.ts';
import './finding-row.css';

/** One kind of flaw; pressing goes to a place of it, pressing again to the next. */
export function DefectEntry({ defect }: { defect: Defect }) {
  const actions = useActions();
  const visiting = useBench((s) => s.sitting.visiting);
  const { kind, count, places } = defect;
  const index = visiting?.kind === kind ? visiting.index : null;
  return (
    <Button
      className="finding"
      data-testid={`defect-${kind}`}
      isDisabled={places.length === 0}
      onPress={() => actions.visit(kind)}
    >
      <span>
        {lexicon.defect(defect)}
        <span className="soft finding-where">
          {index === null ? words.showPlace : words.placeOf(index + 1, count, places.length)}
        </span>
      </span>
    </Button>
  );
}
