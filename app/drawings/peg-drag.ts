import { LIMITS, type Vec2 } from './engine.ts';
import type { PegPatch, PegShape } from './peg-shape.ts';
import { TUNING } from './tuning.ts';

/** What of a peg is held: its body, one of its sides, or the knob that spins it. */
export type Handle = 'body' | 'right' | 'left' | 'top' | 'bottom' | 'spin';

/** The nearest multiple of `step`, without the noise of binary fractions. */
export const roundStep = (value: number, step: number): number =>
  Number((Math.round(value / step) * step).toFixed(6));

const clampSize = (mm: number): number => Math.min(LIMITS.pegWidthMm[1], Math.max(LIMITS.pegWidthMm[0], mm));

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
  if (handle === 'spin') {
    const angle = (p: Vec2) => Math.atan2(p[1] - start.uv[1], p[0] - start.uv[0]);
    const turned = start.spinDeg + ((angle(to) - angle(from)) * 180) / Math.PI;
    return {
      spinDeg: wrapDegrees(roundStep(turned, coarse ? TUNING.spinStepCoarseDeg : TUNING.spinStepDeg)),
    };
  }
  const a = (start.spinDeg * Math.PI) / 180;
  const alongX = Math.cos(a) * dx + Math.sin(a) * dy;
  const alongY = -Math.sin(a) * dx + Math.cos(a) * dy;
  const step = coarse ? TUNING.sizeStepCoarseMm : TUNING.sizeStepMm;
  const sized = (size: number, grow: number) => clampSize(roundStep(size + 2 * grow, step));
  if (handle === 'right' || handle === 'left') {
    return { widthMm: sized(start.widthMm, handle === 'right' ? alongX : -alongX) };
  }
  return { heightMm: sized(start.heightMm, handle === 'top' ? alongY : -alongY) };
}

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
    const by = TUNING.keySpinDeg[grade] * (key === ']' || key === '}' ? 1 : -1);
    return { spinDeg: wrapDegrees(roundStep(shape.spinDeg + by, 1e-4)) };
  }
  // On most keyboards + is a shifted key, so Shift cannot mean coarse here.
  if (key === '+' || key === '=' || key === '-' || key === '_') {
    const by = TUNING.keySizeMm * (key === '+' || key === '=' ? 1 : -1);
    return {
      widthMm: clampSize(roundStep(shape.widthMm + by, 1e-4)),
      heightMm: clampSize(roundStep(shape.heightMm + by, 1e-4)),
    };
  }
  return null;
}

/** The fields of `shape` that `patch` names: what brings a peg back to where it was. */
export function restorePatch(shape: PegShape, patch: PegPatch): PegPatch {
  return {
    ...(patch.uv && { uv: shape.uv }),
    ...(patch.widthMm !== undefined && { widthMm: shape.widthMm }),
    ...(patch.heightMm !== undefined && { heightMm: shape.heightMm }),
    ...(patch.spinDeg !== undefined && { spinDeg: shape.spinDeg }),
  };
}
