import { roundTo, type SeamPlane, type Vec3 } from '../../src/index.ts';
import { turned } from './tilt.ts';

/** What of a seam's handle a person holds: the arrow along its normal, or one of the two tilting knobs. */
export type Grip = 'offset' | 'across' | 'along';

/** A line of sight, file coordinates, mm; `direction` is a unit vector. */
export interface Ray {
  origin: Vec3;
  direction: Vec3;
}

/** The seam's handle as it stands when it is taken hold of. */
export interface HandlePose {
  plane: SeamPlane;
  /** Middle of the seam's face: the plane tilts about it. */
  centre: Vec3;
  /** In-plane axes; u × v = normal. */
  u: Vec3;
  v: Vec3;
  /** Where the held grip is. */
  grip: Vec3;
  /** How far a knob is from the centre, mm. */
  lever: number;
}

/** The undoable side of a drag: one step however many moves, and nothing at all when cancelled. */
export interface GesturePort {
  begin(): void;
  update(plane: SeamPlane): void;
  complete(): void;
  cancel(): void;
}

type State = { name: 'idle' } | { name: 'dragging'; grip: Grip; pose: HandlePose; from: number };

export interface SeamTool {
  isDragging(): boolean;
  enter(grip: Grip, pose: HandlePose, ray: Ray): void;
  move(ray: Ray, snap: boolean): void;
  complete(): void;
  cancel(): void;
}

/** Looking this nearly along the normal (squared sine), a pixel would be a leap: such moves are ignored. */
const LEAST_SIN2 = 0.01;
const OFFSET_PER_MM = 100;
const TILT_PER_DEG = 10;
const SNAP_DEG = 5;

/** Dragging a seam: snapshot on enter, every move computed from the snapshot, then complete or cancel. */
export function createSeamTool(port: GesturePort): SeamTool {
  let state: State = { name: 'idle' };
  const leave = (end: () => void) => {
    if (state.name === 'idle') return;
    state = { name: 'idle' };
    end();
  };
  return {
    isDragging: () => state.name === 'dragging',
    enter(grip, pose, ray) {
      if (state.name === 'dragging') return;
      state = { name: 'dragging', grip, pose, from: alongLine(pose.grip, pose.plane.normal, ray) ?? 0 };
      port.begin();
    },
    move(ray, snap) {
      if (state.name !== 'dragging') return;
      const to = alongLine(state.pose.grip, state.pose.plane.normal, ray);
      if (to !== null) port.update(draggedPlane(state.grip, state.pose, to - state.from, snap));
    },
    complete: () => leave(port.complete),
    cancel: () => leave(port.cancel),
  };
}

/** The plane after its grip moved by `travel` mm along the normal. */
function draggedPlane(grip: Grip, pose: HandlePose, travel: number, snap: boolean): SeamPlane {
  const { plane, centre, u, v, lever } = pose;
  if (grip === 'offset') {
    return { normal: plane.normal, offsetMm: roundTo(plane.offsetMm + travel, snap ? 1 : OFFSET_PER_MM) };
  }
  const raw = (Math.atan2(travel, lever) * 180) / Math.PI;
  const deg = snap ? Math.round(raw / SNAP_DEG) * SNAP_DEG : roundTo(raw, TILT_PER_DEG);
  return tiltedPlane(plane, centre, grip === 'across' ? v : u, deg);
}

/** The plane turned about an axis through `centre`. */
export function tiltedPlane(plane: SeamPlane, centre: Vec3, axis: Vec3, deg: number): SeamPlane {
  if (deg === 0) return plane;
  return throughPoint(turned(plane.normal, axis, deg), centre);
}

/** The plane of that unit normal through a point. */
export const throughPoint = (normal: Vec3, p: Vec3): SeamPlane => ({
  normal,
  offsetMm: roundTo(normal[0] * p[0] + normal[1] * p[1] + normal[2] * p[2], 1e4),
});

/** Where along the line `start + t·direction` the ray passes nearest; null when it looks along the line. */
export function alongLine(start: Vec3, direction: Vec3, ray: Ray): number | null {
  const d = ray.direction;
  const w: Vec3 = [start[0] - ray.origin[0], start[1] - ray.origin[1], start[2] - ray.origin[2]];
  const b = direction[0] * d[0] + direction[1] * d[1] + direction[2] * d[2];
  const sin2 = 1 - b * b;
  if (sin2 < LEAST_SIN2) return null;
  const lineDotW = direction[0] * w[0] + direction[1] * w[1] + direction[2] * w[2];
  const rayDotW = d[0] * w[0] + d[1] * w[1] + d[2] * w[2];
  return (b * rayDotW - lineDotW) / sin2;
}
