import type { CutJoint } from './cut-joint.ts';
import type { FitProfiles, JointSection, Vec2 } from './engine.ts';
import { TUNING } from './tuning.ts';
import type { Bounds, Rect, Size, Way } from './view.ts';

/** Where the pieces of a section drawing stand in its panel, px. */
export interface SectionPanel {
  /** The window onto the section; its dimensions stand around it. */
  window: Rect;
  detail: { at: Vec2; radius: number };
}

/**
 * The way the peg's tip points on the sheet. The drawing's up is the world's up as nearly as the peg's axis allows: of two
 * parts the upper is drawn above. Where the axis lies level neither is, and the tip points up.
 */
export const wayOf = ({ frame }: JointSection): Way => (frame.v[2] < -LEVEL ? -1 : 1);

/** The sine up to which an axis is level: noise of turning. */
const LEVEL = 1e-6;

/**
 * Room around the window: for the length on its left, the width beside the pegged part, which is under it or, where the
 * tip points down, over it; the scale bar at the foot.
 */
const left = 34;
const under = 52;
const widthRow = 30;
const top = 8;
const gutter = 14;

/** Beside each other where the panel is wide, one over the other where it is tall. */
export function sectionPanel({ width, height }: Size, way: Way = 1): SectionPanel {
  const y = way > 0 ? top : top + widthRow;
  if (width >= height) {
    const radius = Math.max(40, Math.min(width * 0.185, height / 2 - 34, 120));
    const column = 2 * radius + gutter;
    const window = { x: left, y, width: width - left - column - gutter, height: height - top - under };
    return { window, detail: { at: [width - radius - 8, top + 22 + radius], radius } };
  }
  const radius = Math.max(40, Math.min(width * 0.24, height * 0.17, 110));
  const foot = 2 * radius + 34;
  const window = { x: left, y, width: width - left - gutter, height: height - top - under - foot };
  return { window, detail: { at: [width - radius - 8, height - radius - 10], radius } };
}

/** Part of the section that a fitted window shows: the socket, or both sockets, with material around. */
export function sectionBounds({
  socketProfile,
  further,
}: Pick<CutJoint, 'further'> & Pick<FitProfiles, 'socketProfile'>): Bounds {
  let half = 0;
  let tip = 0;
  let low = 0;
  for (const line of [socketProfile, ...further.map((fit) => fit.socketProfile)]) {
    for (let i = 0; i < line.length; i += 2) {
      half = Math.max(half, Math.abs(line[i]));
      tip = Math.max(tip, line[i + 1]);
      low = Math.min(low, line[i + 1]);
    }
  }
  return {
    min: [-1.6 * half, low < 0 ? 1.4 * low : -0.5 * tip],
    max: [1.6 * half, (low < 0 ? 1.4 : 1.5) * tip],
  };
}

/** The peg's corner at its tip, as if its edge were not rounded: [u, v], mm; `side` −1 left, 1 right. */
export function tipCorner({ acrossMm, middleMm, footMm, lengthMm, draftDeg }: CutJoint, side: -1 | 1): Vec2 {
  const lean = lengthMm * Math.tan((draftDeg * Math.PI) / 180);
  return [middleMm + side * (acrossMm / 2 - lean), footMm + lengthMm];
}

/** A magnified piece of the section. */
export interface DetailChoice {
  /** Paper to figure, as in 10 : 1. */
  ratio: number;
  pxPerMm: number;
  centre: Vec2;
  /** What the circle holds, mm. */
  radius: number;
}

/** Enlargements of ISO 5455. */
const RATIOS = [100, 50, 20, 10, 5, 2, 1];

/**
 * The largest enlargement at which a circle of `radiusPx` about the peg's tip corner still holds
 * the rounded edge, some of the side and of the tip past it, and both gaps.
 */
export function chooseDetail(joint: CutJoint, radiusPx: number): DetailChoice {
  const { edgeRadiusMm, sideGapMm, endGapMm } = joint;
  const need = Math.max(1.7 * edgeRadiusMm, 2.4 * Math.max(sideGapMm, endGapMm), 0.1);
  const holds = (ratio: number) => radiusPx / (ratio * TUNING.paperPxPerMm);
  const ratio = RATIOS.find((r) => holds(r) >= need) ?? RATIOS[RATIOS.length - 1];
  const corner = tipCorner(joint, 1);
  const centre: Vec2 = [corner[0] + sideGapMm / 2, corner[1] + endGapMm / 2];
  return { ratio, pxPerMm: ratio * TUNING.paperPxPerMm, centre, radius: holds(ratio) };
}
