import { useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { SculptFacts } from './SculptFacts.tsx';
import { SculptHealth } from './SculptHealth.tsx';
import { SculptSize } from './SculptSize.tsx';
import { SculptStand } from './SculptStand.tsx';
import './SculptFields.css';

/** What was opened: what it is, how large it is taken, how it stands and whether it is sound. */
export function SculptFields() {
  const summary = useBench((s) => s.derived.summary);
  if (summary === null) return <p className="soft">{words.starting}</p>;
  const size = <SculptSize summary={summary} />;
  const health = <SculptHealth summary={summary} />;
  return (
    <div className="sculpt-fields">
      <SculptFacts summary={summary} />
      {summary.solid ? size : health}
      {summary.solid ? <SculptStand /> : size}
      {summary.solid ? health : <SculptStand />}
    </div>
  );
}
