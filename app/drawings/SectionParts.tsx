import type { PegSection } from './engine.ts';
import type { HatchIds } from './Hatches.tsx';
import { gapOutline } from './section-measure.ts';
import { linePath, outlinesPath } from './svg-path.ts';
import type { Rect, View } from './view.ts';

export interface SectionPartsProps {
  section: PegSection;
  view: View;
  /** Where it shows, px. */
  within: Rect;
  hatches: HatchIds;
}

/** Both parts where the plane cuts them, hatched in their earths, and the gap between peg and socket. */
export function SectionParts({ section, view, within, hatches }: SectionPartsProps) {
  const paths = {
    pegged: outlinesPath(view, section.pegged, within),
    socketed: outlinesPath(view, section.socketed, within),
    gap: linePath(view, gapOutline(section), true, within),
  };
  return (
    <g>
      <path className="section-part is-socketed" d={paths.socketed} fillRule="evenodd" />
      <path d={paths.socketed} fillRule="evenodd" fill={`url(#${hatches.socketed})`} />
      <path className="section-part is-pegged" d={paths.pegged} fillRule="evenodd" />
      <path d={paths.pegged} fillRule="evenodd" fill={`url(#${hatches.pegged})`} />
      <path className="section-gap" d={paths.gap} />
      <path d={paths.gap} fill={`url(#${hatches.gap})`} />
      <path className="section-outline" d={paths.socketed} />
      <path className="section-outline" d={paths.pegged} />
    </g>
  );
}
