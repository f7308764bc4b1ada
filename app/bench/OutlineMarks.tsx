import { fromFrame, type Vec2, type Vec3 } from '../../src/index.ts';
import { faceOnBench } from '../state/bench-state.ts';
import { choosableOutlines, joiningOutline, type OutlineGroup } from '../state/outlines.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { toScene } from './scene-space.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './OutlineMarks.css';

/** Where a seam's plane meets the figure in several places: a mark at each, by which it is cut or left whole. */
export function OutlineMarks({ viewfinder }: { viewfinder: Viewfinder }) {
  const groups = useBench(choosableOutlines, haveSame);
  return groups.map((group, place) => (
    <OutlineMark key={place} group={group} place={place} viewfinder={viewfinder} />
  ));
}

const haveSame = (a: OutlineGroup[], b: OutlineGroup[]): boolean =>
  a.length === b.length && a.every((group, i) => group === b[i]);

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
  const point: Vec3 =
    summary && frame ? toScene(summary, fromFrame(frame, middleOf(group.outline))) : [0, 0, 0];
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

/** Middle of an outline's box. */
function middleOf(outline: Float64Array): Vec2 {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < outline.length; i += 2) {
    x0 = Math.min(x0, outline[i]!);
    x1 = Math.max(x1, outline[i]!);
    y0 = Math.min(y0, outline[i + 1]!);
    y1 = Math.max(y1, outline[i + 1]!);
  }
  return [(x0 + x1) / 2, (y0 + y1) / 2];
}
