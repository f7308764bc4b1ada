import { memo } from 'react';
import { drawingWords, numeral, shortNumeral } from '../words.ts';
import type { CutJoint } from './cut-joint.ts';
import { Arrowheads, Dimension, Label } from './Dimension.tsx';
import { layoutDimension, numeralsPx } from './dimension-layout.ts';
import { type JointResult, type JointSection, toFrame, type Vec2 } from './engine.ts';
import { tipCorner } from './section-layout.ts';
import { nearestOnLine, pegExtent, sideGapAt } from './section-measure.ts';
import { pointsPath } from './svg-path.ts';
import { type Rect, toScreen, type View } from './view.ts';

export interface SectionDimensionsProps {
  joint: CutJoint;
  view: View;
  /** The window the section shows through; width and length stand outside it. */
  window: Rect;
}

/** Up to two decimals, none wasted. */
const short = (value: number): string => shortNumeral(value, 2);

const isIn = (r: Rect, p: Vec2): boolean =>
  p[0] >= r.x && p[0] <= r.x + r.width && p[1] >= r.y && p[1] <= r.y + r.height;

/** Width at the face, length, draft, edge radius and both side gaps. */
export const SectionDimensions = memo((props: SectionDimensionsProps) => (
  <g className="section-dimensions">
    <WidthDimension {...props} />
    <LengthDimension {...props} />
    <DraftDimension {...props} />
    <RadiusLeader {...props} />
    <SideGap {...props} side={-1} />
    <SideGap {...props} side={1} />
  </g>
));

function WidthDimension({ joint, view, window }: SectionDimensionsProps) {
  const { left, right, widthMm } = pegExtent(joint);
  const [a, b] = [toScreen(view, left), toScreen(view, right)];
  if (!isIn(window, a) || !isIn(window, b)) return null;
  const text = short(widthMm);
  const offset = (view.way > 0 ? window.y + window.height + 17 : window.y - 17) - a[1];
  return <Dimension layout={layoutDimension(a, b, { offset, textPx: numeralsPx(text) })} text={text} />;
}

function LengthDimension({ joint, view, window }: SectionDimensionsProps) {
  const { left, lengthMm } = pegExtent(joint);
  const foot = toScreen(view, left);
  const [u] = tipCorner(joint, -1);
  const tip = toScreen(view, [u + joint.edgeRadiusMm, joint.footMm + lengthMm]);
  if (!isIn(window, foot) || !isIn(window, tip)) return null;
  const text = short(lengthMm);
  const layout = layoutDimension([window.x, foot[1]], [window.x, tip[1]], {
    // To the left, whichever way the length runs.
    offset: -14 * view.way,
    textPx: numeralsPx(text),
  });
  return (
    <>
      <path className="drawing-thin" d={`M${tip[0] - 3} ${tip[1]}H${window.x}`} />
      <Dimension layout={layout} text={text} />
    </>
  );
}

/** The angle between the axis' direction and the peg's left side, on an arc about its foot. */
function DraftDimension({ joint, view, window }: SectionDimensionsProps) {
  const { draftDeg } = joint;
  const { left, lengthMm } = pegExtent(joint);
  const foot = toScreen(view, left);
  const r = 0.7 * lengthMm * view.scale;
  const { way } = view;
  const reach = foot[1] - way * r;
  if (draftDeg <= 0 || r < 24 || !isIn(window, foot) || !isIn(window, [foot[0], reach])) return null;
  // Angles from the axis towards the peg's middle, so the peg's side lies at +draft.
  const on = (deg: number): Vec2 => {
    const a = (deg * Math.PI) / 180;
    return [foot[0] + r * Math.sin(a), foot[1] - way * r * Math.cos(a)];
  };
  const px = (length: number) => ((length / r) * 180) / Math.PI;
  const [start, end] = [on(-px(20)), on(draftDeg + px(14))];
  const arc = (a: Vec2, b: Vec2) =>
    `M${pointsPath([a]).slice(1)}A${r} ${r} 0 0 ${way > 0 ? 1 : 0} ${b[0].toFixed(2)} ${b[1].toFixed(2)}`;
  const turn = (draftDeg * Math.PI) / 180;
  return (
    <g className="drawing-dimension">
      <path
        className="drawing-thin"
        d={`M${foot[0]} ${foot[1] - 3 * way}V${reach - 5 * way}${arc(start, on(0))}${arc(on(draftDeg), end)}`}
      />
      <Arrowheads
        arrows={[
          { tip: on(0), angle: 0 },
          { tip: on(draftDeg), angle: Math.PI + way * turn },
        ]}
      />
      <Label at={[start[0] - 2, start[1] + (way > 0 ? 2 : 6)]} text={`${short(draftDeg)}°`} anchor="end" />
    </g>
  );
}

/** A leader onto the rounded edge at the tip's left. */
function RadiusLeader({ joint, view, window }: SectionDimensionsProps) {
  const { edgeRadiusMm } = joint;
  const tip = toScreen(view, nearestOnLine(joint.pegProfile, tipCorner(joint, -1)));
  if (edgeRadiusMm <= 0 || !isIn(window, tip)) return null;
  const text = `R${short(edgeRadiusMm)}`;
  const run = 20;
  const elbow: Vec2 = [tip[0] - run, tip[1] - view.way * run];
  const shelf = numeralsPx(text) + 4;
  return (
    <g className="drawing-dimension">
      <path className="drawing-thin" d={pointsPath([tip, elbow, [elbow[0] - shelf, elbow[1]]])} />
      <Arrowheads arrows={[{ tip, angle: (view.way * Math.PI) / 4 }]} />
      <Label at={[elbow[0] - 2, elbow[1] - 3]} text={text} anchor="end" />
    </g>
  );
}

/** The gap on one side, as it measures in this very cut. */
function SideGap({ joint, view, window, side }: SectionDimensionsProps & { side: -1 | 1 }) {
  const gap = sideGapAt(joint, side, joint.footMm + 0.3 * joint.lengthMm);
  if (!gap) return null;
  const [from, to] = [toScreen(view, gap.from), toScreen(view, gap.to)];
  if (!isIn(window, from) || !isIn(window, to)) return null;
  const text = numeral(gap.mm);
  return (
    <Dimension
      layout={layoutDimension(from, to, { textPx: numeralsPx(text), textAt: 'to', along: [side, 0] })}
      text={text}
      title={drawingWords.inThisCut(drawingWords.sideGap)}
    />
  );
}

/** How far off the cut the thinnest wall may lie to be dimensioned in it, mm. */
const inCut = 0.25;

export interface SkinWallProps {
  section: JointSection;
  wallMm: JointResult['wallMm'];
  view: View;
  window: Rect;
}

/** The wall between socket and skin, where it is thinnest in this cut. */
export function SkinWall({ section, wallMm, view, window }: SkinWallProps) {
  const { at, min } = wallMm;
  const { origin, n } = section.frame;
  const off = (at[0] - origin[0]) * n[0] + (at[1] - origin[1]) * n[1] + (at[2] - origin[2]) * n[2];
  if (Math.abs(off) > inCut) return null;
  const skin = toFrame(section.frame, at);
  const [from, to] = [toScreen(view, nearestOnLine(section.socketProfile, skin)), toScreen(view, skin)];
  if (!isIn(window, from) || !isIn(window, to)) return null;
  const text = numeral(min);
  return (
    <Dimension layout={layoutDimension(from, to, { textPx: numeralsPx(text), textAt: 'from' })} text={text} />
  );
}
