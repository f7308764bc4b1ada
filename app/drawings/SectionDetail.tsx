import { memo, useMemo } from 'react';
import { drawingWords } from '../words.ts';
import type { CutJoint } from './cut-joint.ts';
import { Dimension } from './Dimension.tsx';
import { layoutDimension, numeralsPx } from './dimension-layout.ts';
import type { JointSection, Vec2 } from './engine.ts';
import { SectionParts } from './SectionParts.tsx';
import type { DetailChoice, SectionPanel } from './section-layout.ts';
import { endGapAt, sideGapAt } from './section-measure.ts';
import { type Rect, toScreen, type View, type Way } from './view.ts';
import './SectionDetail.css';

export interface SectionDetailProps {
  section: JointSection;
  /** Null where it has no gaps to be measured. */
  joint: CutJoint | null;
  choice: DetailChoice;
  place: SectionPanel['detail'];
  /** The way the tip points. */
  way: Way;
  clipId: string;
}

/** How far from the circle's middle, as parts of its radius, the gaps are dimensioned: side below, end to the left. */
const sideReach = 0.72;
const endReach = 0.66;

/** Detail A: the peg's tip corner enlarged until both gaps can be read, with their measured means. */
export function SectionDetail({ section, joint, choice, place, way, clipId }: SectionDetailProps) {
  const { at, radius } = place;
  const view = useMemo(() => viewOf(choice, at, way), [choice, at, way]);
  const around: Rect = { x: at[0] - radius, y: at[1] - radius, width: 2 * radius, height: 2 * radius };
  return (
    <g data-testid="section-detail">
      <clipPath id={clipId}>
        <circle cx={at[0]} cy={at[1]} r={radius} />
      </clipPath>
      <g clipPath={`url(#${clipId})`}>
        <SectionParts section={section} view={view} within={around} />
      </g>
      <circle className="drawing-detail-ring" cx={at[0]} cy={at[1]} r={radius} />
      <text className="drawing-numeral" textAnchor="middle" x={at[0]} y={at[1] - radius - 8}>
        {drawingWords.detail('A', choice.ratio)}
      </text>
      {joint && <DetailGaps joint={joint} choice={choice} view={view} />}
    </g>
  );
}

/** Puts the middle of what is magnified at a point of the sheet. */
const viewOf = ({ pxPerMm, centre }: DetailChoice, at: Vec2, way: Way): View => ({
  scale: pxPerMm,
  x: at[0] - pxPerMm * centre[0],
  y: at[1] + way * pxPerMm * centre[1],
  way,
});

interface DetailGapsProps {
  joint: CutJoint;
  choice: DetailChoice;
  view: View;
}

const DetailGaps = memo(({ joint, choice, view }: DetailGapsProps) => {
  const { centre, radius } = choice;
  const side = sideGapAt(joint, 1, centre[1] - sideReach * radius);
  const end = endGapAt(joint, centre[0] - endReach * radius);
  const dimension = (from: Vec2, to: Vec2, text: string, textAt: 'from' | 'to') =>
    layoutDimension(toScreen(view, from), toScreen(view, to), { textPx: numeralsPx(text), textAt });
  return (
    <>
      {side && (
        <Dimension
          layout={dimension(side.from, side.to, joint.sideGap, 'from')}
          text={joint.sideGap}
          title={joint.sideSpread}
          testId="section-side-gap"
        />
      )}
      {end && (
        <Dimension
          layout={dimension(end.from, end.to, joint.endGap, 'to')}
          text={joint.endGap}
          title={joint.endSpread}
          testId="section-end-gap"
        />
      )}
    </>
  );
});
