import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { rounded, type SweptLine, sweptLine, type Vec3 } from '../../src/index.ts';
import { isHeld } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setLine } from '../state/job-edits.ts';
import { useActions, useBench, useBenchStore, useSeam } from '../state/workbench.tsx';
import {
  acrossSweep,
  middleOf,
  movedLine,
  placeAcross,
  shortenedLine,
  withPointOn,
} from '../tools/line-tool.ts';
import { words } from '../words.ts';
import { toFile, toScene } from './scene-space.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './LineMarks.css';

/** Steps of the arrow keys: plain and with Shift, mm. */
const KEY_STEPS = [0.1, 1] as const;

/** The points of the chosen seam's line, each moved by hand, and a mark on each run by which it gets one more. */
export function LineMarks({ viewfinder }: { viewfinder: Viewfinder }) {
  const seamId = useBench((s) => s.sitting.seamId);
  const drawing = useBench((s) => s.sitting.drawing);
  const swept = useSeam(seamId, (seam) => sweptLine(seam.by), isSame);
  const isApart = useBench((s) => s.sitting.explode > 0);
  if (drawing !== null)
    return drawing.points.map((point, i) => <DraftMark key={i} point={point} viewfinder={viewfinder} />);
  if (seamId === null || swept === null || isApart) return null;
  const { line } = swept;
  return (
    <>
      {line.slice(1).map((_, run) => (
        <RunMark key={-1 - run} {...{ seamId, line, run, viewfinder }} />
      ))}
      {line.map((_, point) => (
        <PointMark key={point} {...{ seamId, swept, point, viewfinder }} />
      ))}
    </>
  );
}

function DraftMark({ point, viewfinder }: { point: Vec3; viewfinder: Viewfinder }) {
  const summary = useBench((s) => s.derived.summary);
  const ref = useFollow<HTMLDivElement>(viewfinder, { point: summary ? toScene(summary, point) : [0, 0, 0] });
  return (
    <div ref={ref} className="line-mark">
      <span className="line-dot" />
    </div>
  );
}

interface RunProps {
  seamId: string;
  line: readonly Vec3[];
  run: number;
  viewfinder: Viewfinder;
}

function RunMark({ seamId, line, run, viewfinder }: RunProps) {
  const actions = useActions();
  const summary = useBench((s) => s.derived.summary);
  const point = summary ? toScene(summary, middleOf(line, run)) : ([0, 0, 0] as const);
  const ref = useFollow<HTMLDivElement>(viewfinder, { point });
  return (
    <div ref={ref} className="line-mark">
      <button
        type="button"
        className="line-more"
        aria-label={words.addLinePointOn(run + 1)}
        title={words.addLinePointOn(run + 1)}
        onClick={() => {
          actions.apply((job) => setLine(job, seamId, { line: withPointOn(line, run) }));
          actions.sit({ linePoint: run + 1 });
        }}
      />
    </div>
  );
}

interface PointProps {
  seamId: string;
  swept: SweptLine;
  point: number;
  viewfinder: Viewfinder;
}

/** One point: dragged across the sweep, moved with the arrow keys, taken away with Delete. */
function PointMark({ seamId, swept, point, viewfinder }: PointProps) {
  const { line, along } = swept;
  const actions = useActions();
  const store = useBenchStore();
  const summary = useBench((s) => s.derived.summary)!;
  const isChosen = useBench((s) => s.sitting.linePoint === point);
  const from = useRef<SweptLine | null>(null);
  const hasMoved = useRef(false);
  const ref = useFollow<HTMLDivElement>(viewfinder, { point: toScene(summary, line[point]!) });

  const press = (event: PointerEvent<HTMLButtonElement>) => {
    if (event.button !== 0) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    from.current = swept;
    hasMoved.current = false;
    actions.sit({ linePoint: point });
    actions.gesture.begin();
  };
  const move = (event: PointerEvent) => {
    const was = from.current;
    const ray = viewfinder.ray(event);
    if (was === null || ray === null) return;
    hasMoved.current = true;
    const at = placeAcross({ ...ray, origin: toFile(summary, ray.origin) }, along, was.line[point]!);
    if (at) actions.gesture.update((job) => setLine(job, seamId, movedLine(was, point, at)), true);
  };
  /** Let go near the figure's outline or a crease, it goes there: across the sweep, for along it makes no difference. */
  const drop = (event: PointerEvent) => {
    const was = from.current;
    const edge = was && hasMoved.current && !event.shiftKey ? viewfinder.edgeNear(event) : null;
    const at = edge && rounded(toFile(summary, edge));
    if (was && at) actions.gesture.update((job) => setLine(job, seamId, movedLine(was, point, at)), true);
    end('complete');
  };
  const end = (how: 'complete' | 'cancel') => {
    if (from.current === null) return;
    from.current = null;
    actions.gesture[how]();
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.key === 'Escape' && from.current !== null) {
      event.stopPropagation();
      return end('cancel');
    }
    if (isHeld(store.getState())) return;
    if (event.key === 'Delete' || event.key === 'Backspace') {
      event.preventDefault();
      event.stopPropagation();
      actions.apply((job) => setLine(job, seamId, shortenedLine(swept, point)));
      return;
    }
    const step = KEY_STEPS[event.shiftKey ? 1 : 0];
    const { right, up } = acrossSweep(along);
    const way = { ArrowRight: right, ArrowLeft: scaled(right, -1), ArrowUp: up, ArrowDown: scaled(up, -1) }[
      event.key
    ];
    if (!way) return;
    event.preventDefault();
    const at = line[point]!.map((c, k) => Math.round((c + step * way[k]!) * 1e4) / 1e4) as unknown as Vec3;
    actions.apply((job) => setLine(job, seamId, movedLine(swept, point, at)));
  };
  return (
    <div ref={ref} className="line-mark">
      <button
        type="button"
        className="line-point"
        aria-label={words.linePoint(point + 1, line.length)}
        title={words.linePoint(point + 1, line.length)}
        data-chosen={isChosen || undefined}
        onFocus={() => actions.sit({ linePoint: point })}
        onPointerDown={press}
        onPointerMove={move}
        onPointerUp={drop}
        onPointerCancel={() => end('cancel')}
        onLostPointerCapture={() => end('complete')}
        onKeyDown={onKey}
      />
    </div>
  );
}

const scaled = (v: Vec3, by: number): Vec3 => [v[0] * by, v[1] * by, v[2] * by];
