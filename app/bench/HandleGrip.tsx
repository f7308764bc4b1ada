import { type KeyboardEvent, type PointerEvent, useCallback, useEffect, useMemo, useRef } from 'react';
import type { SeamPlane, Vec3 } from '../../src/index.ts';
import { type BenchState, isHeld } from '../state/bench-state.ts';
import { setPlane } from '../state/job-edits.ts';
import type { Bounds } from '../state/new-seam.ts';
import { useActions, useBench, useBenchStore, useWatch } from '../state/workbench.tsx';
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
import { useLetGo } from './use-follow.ts';
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
  /** The handle as it stands in a state, which has one. */
  handleOf: (state: BenchState) => Handle | null;
  viewfinder: Viewfinder;
}

/**
 * One grip of the seam's handle: dragged with a pointer, or moved with the arrow keys like a slider. It goes where the
 * handle does, and says so, without being rendered: all three do so at every move of a hand.
 */
export function HandleGrip({ grip, seamId, handleOf, viewfinder }: GripProps) {
  const actions = useActions();
  const store = useBenchStore();
  const summary = useBench((s) => s.derived.summary)!;
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
  const ref = useRef<HTMLDivElement>(null);
  const stand = useCallback(
    (handle: Handle | null) => {
      if (ref.current === null || handle === null) return;
      const home = store.getState().sitting.homes[seamId] ?? homeAxis(handle.n);
      tellValue(ref.current, grip, handle, home, summary.boundsMm);
      viewfinder.follow(ref.current, {
        point: toScene(summary, handle.grips[grip]),
        along: handle.n,
      });
    },
    [store, seamId, grip, summary, viewfinder],
  );
  useWatch(handleOf, stand);
  useLetGo(viewfinder, ref);
  useEscape(tool);

  const rayAt = (event: PointerEvent): Ray | null => {
    const ray = viewfinder.ray(event);
    return ray && { ...ray, origin: toFile(summary, ray.origin) };
  };
  const press = (event: PointerEvent<HTMLDivElement>) => {
    const ray = rayAt(event);
    const handle = handleOf(store.getState());
    if (event.button !== 0 || ray === null || handle === null) return;
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
    const handle = handleOf(store.getState());
    if (sign === 0 || handle === null) return;
    event.preventDefault();
    const plane = nudged(grip, poseOf(handle, grip), sign * KEY_STEPS[grip][event.shiftKey ? 1 : 0]);
    if (!isHeld(store.getState())) actions.apply((job) => setPlane(job, seamId, plane));
  };
  return (
    // A slider drawn as what it moves: an arrow along the seam's normal, or a knob at its edge.
    <div
      ref={ref}
      className={`grip grip-${grip}`}
      role="slider"
      tabIndex={0}
      aria-orientation="vertical"
      // Its values are the handle's, see `tellValue`.
      aria-valuenow={0}
      aria-label={words.handle[grip]}
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

/** Writes what a grip stands at, and between what values it moves, where a screen reader looks for it. */
function tellValue(element: HTMLElement, grip: Grip, { n, offsetMm }: Handle, home: Vec3, box: Bounds): void {
  const tilt = tiltOf(home, n);
  const value = grip === 'offset' ? offsetMm : grip === 'across' ? tilt.acrossDeg : tilt.alongDeg;
  const [least, most] = gripRange(grip, n, box, value);
  const told = { now: hundredths(value), min: hundredths(least), max: hundredths(most) };
  for (const [name, text] of Object.entries({ ...told, text: words.handleValue[grip](value) })) {
    const attribute = `aria-value${name}`;
    if (element.getAttribute(attribute) !== text) element.setAttribute(attribute, text);
  }
}

const hundredths = (value: number): string => String(Math.round(value * 100) / 100);

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
