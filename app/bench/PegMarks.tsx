import type { JointResult, SculptSummary, SeamResult, Vec3 } from '../../src/index.ts';
import { seamResultOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { toScene } from './scene-space.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './PegMarks.css';

/** A mark over every peg of the chosen seam; the chosen peg's is filled. */
export function PegMarks({ viewfinder }: { viewfinder: Viewfinder }) {
  const summary = useBench((s) => s.derived.summary);
  const seam = useBench((s) => seamResultOf(s, s.sitting.seamId));
  const isLive = useBench((s) => s.derived.live !== null);
  if (!seam || summary === null || isLive) return null;
  return seam.joints.map((peg) => (
    <PegMark key={peg.settled.id} peg={peg} seam={seam} summary={summary} viewfinder={viewfinder} />
  ));
}

interface PegMarkProps {
  peg: JointResult;
  seam: SeamResult;
  summary: SculptSummary;
  viewfinder: Viewfinder;
}

function PegMark({ peg, seam, summary, viewfinder }: PegMarkProps) {
  const actions = useActions();
  const chosen = useBench((s) => s.sitting.jointId === peg.settled.id && s.sitting.seamId === seam.id);
  const point: Vec3 = toScene(summary, peg.settled.at);
  const ref = useFollow<HTMLDivElement>(viewfinder, { point });
  return (
    <div ref={ref} className="peg-mark">
      <button
        type="button"
        tabIndex={-1}
        data-chosen={chosen || undefined}
        aria-label={words.pegMark(peg.index + 1)}
        aria-pressed={chosen}
        onClick={() => actions.select(seam.id, peg.settled.id, 'peg')}
      >
        {peg.index + 1}
      </button>
    </div>
  );
}
