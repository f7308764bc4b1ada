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

/** Both parts where the plane cuts them, hatched in their earths, and the gap between peg and socket. */
export function SectionParts({ section, view, within }: SectionPartsProps) {
  const paths = {
    pegged: outlinesPath(view, section.pegged, within),
    socketed: outlinesPath(view, section.socketed, within),
    // Of a joint that reaches over the edge, part of the gap is open air.
    gap: isWholeJoint(section) ? linePath(view, gapOutline(section), true, within) : '',
  };
  return (
    <g>
      <path className="section-part is-socketed" d={paths.socketed} />
      <Hatch what="socketed" d={paths.socketed} within={within} />
      <path className="section-part is-pegged" d={paths.pegged} />
      <Hatch what="pegged" d={paths.pegged} within={within} />
      <path className="section-gap" d={paths.gap} />
      <Hatch what="gap" d={paths.gap} within={within} />
      <path className="section-outline" d={paths.socketed} />
      <path className="section-outline" d={paths.pegged} />
    </g>
  );
}
