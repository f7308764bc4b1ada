import type { JointSection } from './engine.ts';
import { Hatch } from './Hatch.tsx';
import { gapOutline, isWholeJoint } from './section-measure.ts';
import { linePath, outlinesPath } from './svg-path.ts';
import type { Rect, View } from './view.ts';
import './SectionParts.css';

export interface SectionPartsProps {
  section: JointSection;
  view: View;
  /** Where it shows, px. */
  within: Rect;
}

/** Both parts where the plane cuts them, hatched in their earths, what lies loose in them, and the gaps. */
export function SectionParts({ section, view, within }: SectionPartsProps) {
  const paths = {
    pegged: outlinesPath(view, section.pegged, within),
    socketed: outlinesPath(view, section.socketed, within),
    loose: outlinesPath(view, section.loose, within),
    // Of a joint that reaches over the edge, part of the gap is open air.
    gap: [section, ...section.further]
      .filter(isWholeJoint)
      .map((fit) => linePath(view, gapOutline(fit), true, within))
      .join(''),
  };
  return (
    <g>
      <path className="section-part is-socketed" d={paths.socketed} />
      <Hatch what="socketed" d={paths.socketed} within={within} />
      <path className="section-part is-pegged" d={paths.pegged} />
      <Hatch what="pegged" d={paths.pegged} within={within} />
      <path className="section-part is-loose" d={paths.loose} />
      <Hatch what="loose" d={paths.loose} within={within} />
      <path className="section-gap" d={paths.gap} />
      <Hatch what="gap" d={paths.gap} within={within} />
      <path className="section-outline" d={paths.socketed} />
      <path className="section-outline" d={paths.pegged} />
      <path className="section-outline" d={paths.loose} data-testid="section-loose" />
    </g>
  );
}
