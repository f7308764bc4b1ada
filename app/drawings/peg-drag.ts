import { type JointField, jointKind, type Sizes, type Vec2 } from './engine.ts';
import { movedCorner } from './outline-corners.ts';
import { type PegPatch, type PegShape, spinOf } from './peg-shape.ts';
import { TUNING } from './tuning.ts';

/** What of a peg is held: its body, one of its sides, the knob that spins it, or a corner of its outline. */
export type Handle = SideHandle | CornerHandle;
export type SideHandle = 'body' | 'right' | 'left' | 'top' | 'bottom' | 'spin';
/** A corner of an outline of its own, by its place in that. */
export type CornerHandle = `corner-${number}`;

const isCorner = (handle: Handle): handle is CornerHandle => handle.startsWith('corner-');

/** The nearest multiple of `step`, without the noise of binary fractions. */
export const roundStep = (value: number, step: number): number =>
  Number((Math.round(value / step) * step).toFixed(6));

const clamped = ({ limits }: JointField, size: number): number =>
  Math.min(limits[1], Math.max(limits[0], size));

/** The field that a handle changes; undefined where the joint's kind has none such. */
export function fieldOf({ sizes: { kind } }: PegShape, handle: Handle): JointField | undefined {
  const grips =
    handle === 'spin' ? ['turn'] : handle === 'left' || handle === 'right' ? ['x', 'both'] : ['y', 'both'];
  return handle === 'body' || isCorner(handle)
    ? undefined
    : jointKind(kind).fields.find(({ grip }) => grip !== undefined && grips.includes(grip));
}

/** The handles of a joint of its kind. */
export const handlesOf = (shape: PegShape): SideHandle[] =>
  (['right', 'left', 'top', 'bottom', 'spin'] as const).filter((handle) => fieldOf(shape, handle));

/** Degrees brought into (−180, 180]. */
export function wrapDegrees(deg: number): number {
  const a = ((deg % 360) + 360) % 360;
  return a > 180 ? a - 360 : a;
}

/**
 * What a drag from one point of the frame to another does to a peg. Sides move symmetrically,
 * so the middle stays; `coarse` takes the larger steps.
 */
export function dragPeg(start: PegShape, handle: Handle, from: Vec2, to: Vec2, coarse = false): PegPatch {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]];
  if (handle === 'body') {
    const step = TUNING.moveStepMm;
    return { uv: [roundStep(start.uv[0] + dx, step), roundStep(start.uv[1] + dy, step)] };
  }
  if (isCorner(handle)) return movedCorner(start, Number(handle.slice('corner-'.length)), snapped(to));
  const field = fieldOf(start, handle);
  if (!field) return {};
  if (handle === 'spin') {
    const angle = (p: Vec2) => Math.atan2(p[1] - start.uv[1], p[0] - start.uv[0]);
    const turned = spinOf(start) + ((angle(to) - angle(from)) * 180) / Math.PI;
    const step = coarse ? TUNING.spinStepCoarseDeg : TUNING.spinStepDeg;
    return { sizes: { [field.name]: wrapDegrees(roundStep(turned, step)) } };
  }
  const a = (spinOf(start) * Math.PI) / 180;
  const alongX = Math.cos(a) * dx + Math.sin(a) * dy;
  const alongY = -Math.sin(a) * dx + Math.cos(a) * dy;
  const step = coarse ? TUNING.sizeStepCoarseMm : TUNING.sizeStepMm;
  const grow = { right: alongX, left: -alongX, top: alongY, bottom: -alongY }[handle];
  return { sizes: { [field.name]: clamped(field, roundStep(start.sizes[field.name] + 2 * grow, step)) } };
}

const snapped = ([u, v]: Vec2): Vec2 => [
  roundStep(u, TUNING.cornerStepMm),
  roundStep(v, TUNING.cornerStepMm),
];

const ARROWS: Record<string, Vec2> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/** The direction an arrow key points in on the drawing, or null for another key. */
export const arrowDirection = (key: string): Vec2 | null => ARROWS[key] ?? null;

/** What a key does to a peg: arrows move, [ ] spin, + − size; null for a key that does nothing to it. */
export function pegKey(shape: PegShape, key: string, shift: boolean): PegPatch | null {
  const grade = shift ? 1 : 0;
  const arrow = arrowDirection(key);
  if (arrow) {
    const by = TUNING.keyMoveMm[grade];
    return {
      uv: [roundStep(shape.uv[0] + by * arrow[0], 1e-4), roundStep(shape.uv[1] + by * arrow[1], 1e-4)],
    };
  }
  if (key === '[' || key === ']' || key === '{' || key === '}') {
    const field = fieldOf(shape, 'spin');
    if (!field) return null;
    const by = TUNING.keySpinDeg[grade] * (key === ']' || key === '}' ? 1 : -1);
    return { sizes: { [field.name]: wrapDegrees(roundStep(spinOf(shape) + by, 1e-4)) } };
  }
  // On most keyboards + is a shifted key, so Shift cannot mean coarse here.
  if (key === '+' || key === '=' || key === '-' || key === '_') {
    const by = TUNING.keySizeMm * (key === '+' || key === '=' ? 1 : -1);
    const fields = (['right', 'top'] as const).flatMap((handle) => fieldOf(shape, handle) ?? []);
    const sized = fields.map(
      (field) => [field.name, clamped(field, roundStep(shape.sizes[field.name] + by, 1e-4))] as const,
    );
    return { sizes: Object.fromEntries(sized) };
  }
  return null;
}

/** The fields of `shape` that `patch` names: what brings a peg back to where it was. */
export function restorePatch(shape: PegShape, { uv, sizes }: PegPatch): PegPatch {
  const names = Object.keys(sizes ?? {}) as (keyof Sizes)[];
  return {
    ...(uv && { uv: shape.uv }),
    ...(sizes && { sizes: Object.fromEntries(names.map((name) => [name, shape.sizes[name]])) }),
  };
}
