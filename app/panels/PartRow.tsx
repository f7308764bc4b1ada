import { ToggleButton } from 'react-aria-components';
import type { PartNode } from '../../src/index.ts';
import type { BenchState } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setPartName } from '../state/job-edits.ts';
import { idsUnder, isShown } from '../state/parts.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Words } from '../ui/Words.tsx';
import { words } from '../words.ts';
import { BedState } from './BedState.tsx';
import './PartRow.css';

interface PartRowProps {
  node: PartNode;
  /** What the seam that makes it gives it; null for the sculpt and its bodies. */
  carries: 'pegged' | 'socketed' | null;
}

/** What a part that no seam makes goes by. */
const nameInFile = ({ derived: { view, summary } }: BenchState, id: string): string =>
  [...(view?.parts ?? []), ...(summary?.solids ?? [])].find((one) => one.id === id)?.name ?? '';

/** A part of the tree: named in place, pulled away from the rest, hidden, or seen alone. One that a seam divides stands for all that comes of it. */
export function PartRow({ node, carries }: PartRowProps) {
  const actions = useActions();
  const ids = idsUnder(node);
  const isHidden = useBench((s) => !ids.some((id) => isShown(s, id)));
  const isAlone = useBench(({ sitting }) => sitting.alone !== null && isSame(sitting.alone, ids));
  const isApart = useBench(({ sitting }) => sitting.apart.includes(node.id));
  // What seams divide further is not one part.
  const canPull =
    useBench(({ derived: { view } }) => (view?.parts.length ?? 0) > 1) && isSame(ids, [node.id]);
  const ownName = useBench((s) => nameInFile(s, node.id));
  const name = node.name ?? ownName;
  const { ref } = node;
  const isLeaf = node.seam === null && node.bodies.length === 0;
  return (
    <div className="part-row" data-hidden={isHidden || undefined} data-testid={`part-${node.id}`}>
      <span className="part-tone" data-carries={carries ?? undefined} aria-hidden="true" />
      {ref.of === 'seam' ? (
        <Words
          label={words.partName(name)}
          isBare
          value={name}
          onCommit={(to) => actions.apply((job) => setPartName(job, ref, to))}
        />
      ) : (
        <span className="part-name">{name}</span>
      )}
      <div className="part-tools">
        {canPull && (
          <ToggleButton
            className="part-toggle"
            aria-label={words.apartPart(name)}
            isSelected={isApart}
            onChange={(is) => actions.pullPart(node.id, is)}
          >
            {words.apart}
          </ToggleButton>
        )}
        {isLeaf && <BedState id={node.id} name={name} isHidden={isHidden} />}
        <ToggleButton
          className="part-toggle"
          aria-label={words.hidePart(name)}
          isSelected={isHidden}
          onChange={(is) => actions.hideParts(ids, is)}
        >
          {words.hide}
        </ToggleButton>
        <ToggleButton
          className="part-toggle"
          aria-label={words.alonePart(name)}
          isSelected={isAlone}
          onChange={(is) => actions.sit({ alone: is ? ids : null })}
        >
          {words.alone}
        </ToggleButton>
      </div>
    </div>
  );
}
