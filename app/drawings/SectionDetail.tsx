import { Dimension } from './Dimension.tsx';
import { layoutDimension, numeralsPx } from './dimension-layout.ts';
import type { PegResult, PegSection, Vec2 } from './engine.ts';
import type { HatchIds } from './Hatches.tsx';
import { SectionParts } from './SectionParts.tsx';
import type { DetailChoice, SectionPanel } from './section-layout.ts';
import { endGapAt, sideGapAt } from './section-measure.ts';
import { type Rect, toScreen, type View } from './view.ts';
import { WORDS } from './words.ts';

export interface SectionDetailProps {
  section: PegSection;
  result: PegResult;
  choice: DetailChoice;
  place: SectionPanel['detail'];
  hatches: HatchIds;
  clipId: string;
}

/** How far from the circle's middle, as parts of its radius, the gaps are dimensioned: side below, end to the left. */
const sideReach = 0.72;
const endReach = 0.66;

/** Detail A: the peg's tip corner enlarged until both gaps can be read, with their measured means. */
export function SectionDetail({ section, result, choice, place, hatches, clipId }: SectionDetailProps) {
  const { at, radius } = place;
  const scale = choice.pxPerMm;
  const view: View = { scale, x: at[0] - scale * choice.centre[0], y: at[1] + scale * choice.centre[1] };
  const around: Rect = { x: at[0] - radius, y: at[1] - radius, width: 2 * radius, height: 2 * radius };
  return (
    <g data-testid="section-detail">
      <clipPath id={clipId}>
        <circle cx={at[0]} cy={at[1]} r={radius} />
      </clipPath>
      <g clipPath={`url(#${clipId})`}>
        <SectionParts section={section} view={view} within={around} hatches={hatches} />
      </g>
      <circle className="drawing-detail-ring" cx={at[0]} cy={at[1]} r={radius} />
      <text className="drawing-numeral" textAnchor="middle" x={at[0]} y={at[1] - radius - 8}>
        {WORDS.detail('A', choice.ratio)}
      </text>
      <DetailGaps section={section} result={result} choice={choice} view={view} />
    </g>
  );
}

function DetailGaps({
  section,
  result,
  choice,
  view,
}: Omit<SectionDetailProps, 'place' | 'hatches' | 'clipId'> & { view: View }) {
  const { centre, radius } = choice;
  const side = sideGapAt(section, 1, centre[1] - sideReach * radius);
  const end = endGapAt(section, centre[0] - endReach * radius);
  const sideText = result.sideGapMm.mean.toFixed(2);
  const endText = result.endGapMm.mean.toFixed(2);
  const dimension = (from: Vec2, to: Vec2, text: string, textAt: 'from' | 'to') =>
    layoutDimension(toScreen(view, from), toScreen(view, to), { textPx: numeralsPx(text), textAt });
  return (
    <>
      {side && (
        <Dimension
          layout={dimension(side.from, side.to, sideText, 'from')}
          text={sideText}
          title={WORDS.spread(WORDS.sideGap, result.sideGapMm)}
          testId="section-side-gap"
        />
      )}
      {end && (
        <Dimension
          layout={dimension(end.from, end.to, endText, 'to')}
          text={endText}
          title={WORDS.spread(WORDS.endGap, result.endGapMm)}
          testId="section-end-gap"
        />
      )}
    </>
  );
}
