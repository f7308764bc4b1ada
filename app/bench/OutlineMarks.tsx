import { fromFrame, type Vec3 } from '../../src/index.ts';
import { faceOnBench } from '../state/bench-state.ts';
import { choosableOutlines, isSameList, joiningOutline, type OutlineGroup } from '../state/outlines.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { toScene } from './scene-space.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './OutlineMarks.css';

/** Where a seam's plane meets the figure in several places: a mark on each outline, clear of the pegs within it, by which it is cut or left whole. */
export function OutlineMarks({ viewfinder }: { viewfinder: Viewfinder }) {
  const groups = useBench(choosableOutlines, isSameList);
  return groups.map((group, place) => (
    <OutlineMark key={place} group={group} place={place} viewfinder={viewfinder} />
  ));
}

interface OutlineMarkProps {
  group: OutlineGroup;
  place: number;
  viewfinder: Viewfinder;
}

function OutlineMark({ group, place, viewfinder }: OutlineMarkProps) {
  const actions = useActions();
  const summary = useBench((s) => s.derived.summary);
  const joins = useBench((s) => joiningOutline(s) === group);
  const frame = useBench((s) => faceOnBench(s, s.sitting.seamId)?.frame ?? null);
  const point: Vec3 = summary && frame ? toScene(summary, fromFrame(frame, group.at)) : [0, 0, 0];
  const ref = useFollow<HTMLDivElement>(viewfinder, { point });
  return (
    <div ref={ref} className="outline-mark">
      <button
        type="button"
        aria-label={words.outlineMark(place + 1)}
        aria-pressed={group.isCut}
        data-joins={joins || undefined}
        title={group.isCut ? words.outlineCut : words.outlineWhole}
        onClick={() => actions.toggleOutline(group)}
      />
    </div>
  );
}
