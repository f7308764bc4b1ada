import { isSame } from '../state/is-same.ts';
import {
  halfExtents,
  type JointShape,
  outlineIn,
  outlinesOnFace,
  type PlaneFrame,
  type SettledJoint,
  type Side,
  type Sizes,
  toFrame,
  type Vec2,
} from './engine.ts';
import { TUNING } from './tuning.ts';

/** A joint as the face drawing sees it: lengths mm, spin counter-clockwise from the frame's u, degrees. */
export interface PegShape {
  /** Its foot in the face's frame. */
  uv: Vec2;
  pegOn: Side;
  sizes: JointShape;
}

/** What a gesture may change. */
export interface PegPatch {
  uv?: Vec2;
  sizes?: Sizes;
}

export function pegShape({ id: _, at, ...sizes }: SettledJoint, frame: PlaneFrame, pegOn: Side): PegShape {
  return { uv: toFrame(frame, at), pegOn, sizes };
}

export const patchedShape = (shape: PegShape, { uv, sizes }: PegPatch): PegShape => ({
  ...shape,
  ...(uv && { uv }),
  sizes: { ...shape.sizes, ...sizes },
});

export const spinOf = ({ sizes }: PegShape): number => sizes.spinDeg ?? 0;

const near = (a: number, b: number): boolean => Math.abs(a - b) <= TUNING.sameWithin;

/** Whether two shapes would be drawn alike. */
export function isSameShape(a: PegShape, b: PegShape): boolean {
  const { kind, ...sizes } = a.sizes;
  return (
    kind === b.sizes.kind &&
    a.pegOn === b.pegOn &&
    near(a.uv[0], b.uv[0]) &&
    near(a.uv[1], b.uv[1]) &&
    isSame(outlineIn(a.sizes), outlineIn(b.sizes)) &&
    Object.entries(sizes).every(
      ([name, size]) => typeof size !== 'number' || near(size, b.sizes[name as keyof Sizes] ?? 0),
    )
  );
}

/** A point of the peg's own axes (mm from its middle) in the frame. */
export function fromPegAxes(shape: PegShape, x: number, y: number): Vec2 {
  const a = (spinOf(shape) * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return [shape.uv[0] + c * x - s * y, shape.uv[1] + s * x + c * y];
}

/** What is added and what is taken, closed and counter-clockwise in the frame. */
export function outlinesOf({ sizes, uv, pegOn }: PegShape): { peg: Float64Array; socket: Float64Array } {
  const outlines = outlinesOnFace(sizes, uv, pegOn);
  const that = (does: 'add' | 'take') =>
    outlines.find((one) => one.does === does)?.outline ?? new Float64Array(0);
  return { peg: that('add'), socket: that('take') };
}

/** How far the peg, and its socket, reach along the peg's own axes, mm. */
export const reachOf = ({ sizes }: PegShape): { peg: Vec2; socket: Vec2 } => ({
  peg: halfExtents(sizes, 'add'),
  socket: halfExtents(sizes, 'take'),
});
