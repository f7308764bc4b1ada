import { type KeyboardEvent, type PointerEvent, useEffect, useMemo, useRef } from 'react';
import type { SeamPlane } from '../../src/index.ts';
import { isHeld } from '../state/bench-state.ts';
import { setPlane } from '../state/job-edits.ts';
import { useActions, useBench, useBenchStore } from '../state/workbench.tsx';
import { gripRange } from '../tools/grip-range.ts';
import {
  createSeamTool,
  type Grip,
  type HandlePose,
  type Ray,
  throughPoint,
  tiltedPlane,
} from '../tools/seam-tool.ts';
import { homeAxis, tiltOf } from '../tools/tilt.ts';
import { words } from '../words.ts';
import type { Handle } from './handle-pose.ts';
import { toFile, toScene } from './scene-space.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './HandleGrip.css';

/** Steps of the arrow keys: plain and with Shift. mm for the arrow, degrees for the knobs. */
const KEY_STEPS: Record<Grip, readonly [number, number]> = {
  offset: [0.1, 1],
  across: [0.5, 5],
  along: [0.5, 5],
};

interface GripProps {
  grip: Grip;
  seamId: string;
  handle: Handle;
  viewfinder: Viewfinder;
}

/** One grip of the seam's handle: dragged with a pointer, or moved with the arrow keys like a slider. */
export function HandleGrip({ grip, seamId, handle, viewfinder }: GripProps) {
  const actions = useActions();
  const store = useBenchStore();
  const summary = useBench((s) => s.derived.summary)!;
  const home = useBench((s) => s.sitting.homes[seamId]) ?? homeAxis(handle.n);
  const tool = useMemo(
    () =>
      createSeamTool({
        begin: actions.gesture.begin,
        update: (plane) => actions.gesture.update((job) => setPlane(job, seamId, plane), true),
        complete: actions.gesture.complete,
        cancel: actions.gesture.cancel,
      }),
    [actions, seamId],
  );
  const ref = useFollow<HTMLDivElement>(viewfinder, {
    point: toScene(summary, handle.grips[grip]),
    along: handle.n,
  });
  useEscape(tool);

  const rayAt = (event: PointerEvent): Ray | null => {
    const ray = viewfinder.ray(event);
    return ray && { ...ray, origin: toFile(summary, ray.origin) };
  };
  const press = (event: PointerEvent<HTMLDivElement>) => {
    const ray = rayAt(event);
    if (event.button !== 0 || ray === null) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    tool.enter(grip, poseOf(handle, grip), ray);
  };
  const move = (event: PointerEvent) => {
    const ray = rayAt(event);
    if (ray) tool.move(ray, event.shiftKey);
  };
  const nudge = (event: KeyboardEvent) => {
    const sign =
      event.key === 'ArrowUp' || event.key === 'ArrowRight'
        ? 1
        : event.key === 'ArrowDown' || event.key === 'ArrowLeft'
          ? -1
          : 0;
    if (sign === 0) return;
    event.preventDefault();
    const plane = nudged(grip, poseOf(handle, grip), sign * KEY_STEPS[grip][event.shiftKey ? 1 : 0]);
    if (!isHeld(store.getState())) actions.apply((job) => setPlane(job, seamId, plane));
  };
  const tilt = tiltOf(home, handle.n);
  const value = grip === 'offset' ? handle.offsetMm : grip === 'across' ? tilt.acrossDeg : tilt.alongDeg;
  const [least, most] = gripRange(grip, handle.n, summary.boundsMm, value);
  return (
    // A slider drawn as what it moves: an arrow along the seam's normal, or a knob at its edge.
    <div
      ref={ref}
      className={`grip grip-${grip}`}
      role="slider"
      tabIndex={0}
      aria-label={words.handle[grip]}
      aria-orientation="vertical"
      aria-valuenow={Math.round(value * 100) / 100}
      aria-valuemin={Math.round(least * 100) / 100}
      aria-valuemax={Math.round(most * 100) / 100}
      aria-valuetext={words.handleValue[grip](value)}
      data-testid={grip === 'offset' ? 'seam-handle' : `tilt-${grip}-handle`}
      title={words.handle[grip]}
      onPointerDown={press}
      onPointerMove={move}
      onPointerUp={tool.complete}
      onPointerCancel={tool.cancel}
      onLostPointerCapture={tool.complete}
      onKeyDown={nudge}
    >
      <svg viewBox="-16 -16 32 32" width="32" height="32" aria-hidden="true">
        {grip === 'offset' ? <path d="M0-15 6-5H2V5h4L0 15-6 5h4V-5h-4z" /> : <KnobMark />}
      </svg>
    </div>
  );
}

/** A knob with two short arcs: it turns the plane. */
const KnobMark = () => (
  <>
    <circle r="6" />
    <path className="grip-arc" d="M-5-11A12 12 0 0 1 5-11M-5 11A12 12 0 0 0 5 11" />
  </>
);

const poseOf = (handle: Handle, grip: Grip): HandlePose => ({
  plane: { normal: handle.n, offsetMm: handle.offsetMm },
  centre: handle.centre,
  u: handle.u,
  v: handle.v,
  grip: handle.grips[grip],
  lever: handle.levers[grip],
});

function nudged(grip: Grip, pose: HandlePose, by: number): SeamPlane {
  const { plane, centre, u, v } = pose;
  if (grip === 'offset')
    return { normal: plane.normal, offsetMm: Math.round((plane.offsetMm + by) * 1000) / 1000 };
  const tilted = tiltedPlane(plane, centre, grip === 'across' ? v : u, by);
  return throughPoint(tilted.normal, centre);
}

/** Escape lets go of a drag wherever the focus is. */
function useEscape(tool: { isDragging(): boolean; cancel(): void }): void {
  const held = useRef(tool);
  held.current = tool;
  useEffect(() => {
    const letGo = (event: globalThis.KeyboardEvent) => {
      if (event.key !== 'Escape' || !held.current.isDragging()) return;
      event.stopPropagation();
      held.current.cancel();
    };
    window.addEventListener('keydown', letGo, true);
    return () => window.removeEventListener('keydown', letGo, true);
  }, []);
}
