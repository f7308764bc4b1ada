import { type PlaneFrame, type ResolvedPeg, toFrame, type Vec2 } from './engine.ts';
import { TUNING } from './tuning.ts';

/** A peg as the face drawing sees it: lengths mm, spin counter-clockwise from the frame's u, degrees. */
export interface PegShape {
  uv: Vec2;
  widthMm: number;
  heightMm: number;
  spinDeg: number;
  edgeRadiusMm: number;
  /** From the peg's outline to the socket's, in the plane of the face. */
  socketOffsetMm: number;
}

/** What a gesture may change. */
export interface PegPatch {
  uv?: Vec2;
  widthMm?: number;
  heightMm?: number;
  spinDeg?: number;
}

/** Its gap is normal to the tapered side, so in the face it reads sideGap / cos(draft). */
export function pegShape(peg: ResolvedPeg, frame: PlaneFrame): PegShape {
  return {
    uv: toFrame(frame, peg.at),
    widthMm: peg.widthMm,
    heightMm: peg.heightMm,
    spinDeg: peg.spinDeg,
    edgeRadiusMm: peg.edgeRadiusMm,
    socketOffsetMm: peg.sideGapMm / Math.cos((peg.draftDeg * Math.PI) / 180),
  };
}

const near = (a: number, b: number): boolean => Math.abs(a - b) <= TUNING.sameWithin;

/** Whether two shapes would be drawn alike. */
export const isSameShape = (a: PegShape, b: PegShape): boolean =>
  near(a.uv[0], b.uv[0]) &&
  near(a.uv[1], b.uv[1]) &&
  near(a.widthMm, b.widthMm) &&
  near(a.heightMm, b.heightMm) &&
  near(a.spinDeg, b.spinDeg) &&
  near(a.edgeRadiusMm, b.edgeRadiusMm) &&
  near(a.socketOffsetMm, b.socketOffsetMm);

/** A point of the peg's own axes (mm from its middle) in the frame. */
export function fromPegAxes(shape: PegShape, x: number, y: number): Vec2 {
  const a = (shape.spinDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(a), Math.sin(a)];
  return [shape.uv[0] + c * x - s * y, shape.uv[1] + s * x + c * y];
}

/**
 * Closed counter-clockwise rounded rectangle about the shape's middle, grown by `offset` mm
 * as a parallel curve: the corner radius grows with it. Flat x, y pairs.
 */
export function roundedRectangle(shape: PegShape, offset = 0): Float64Array {
  const halfW = shape.widthMm / 2;
  const halfH = shape.heightMm / 2;
  const core = Math.min(Math.max(shape.edgeRadiusMm, 0), halfW, halfH);
  const r = core + offset;
  const steps = r > 0 ? TUNING.cornerSteps : 0;
  const out = new Float64Array(8 * (steps + 1));
  let at = 0;
  for (let corner = 0; corner < 4; corner++) {
    const cx = (corner === 0 || corner === 3 ? 1 : -1) * (halfW - core);
    const cy = (corner < 2 ? 1 : -1) * (halfH - core);
    for (let i = 0; i <= steps; i++) {
      const angle = (Math.PI / 2) * (corner + (steps > 0 ? i / steps : 0));
      const p = fromPegAxes(shape, cx + r * Math.cos(angle), cy + r * Math.sin(angle));
      out[at++] = p[0];
      out[at++] = p[1];
    }
  }
  return out;
}
