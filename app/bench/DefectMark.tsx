import { useBench } from '../state/workbench.tsx';
import { words } from '../words.ts';
import { useFollow } from './use-follow.ts';
import type { Viewfinder } from './viewfinder.ts';
import './DefectMark.css';

/** A ring around the flaw that is being looked at. */
export function DefectMark({ viewfinder }: { viewfinder: Viewfinder }) {
  const visiting = useBench((s) => s.sitting.visiting);
  const defects = useBench((s) => s.derived.health?.defects);
  const place = defects?.find(({ kind }) => kind === visiting?.kind)?.places[visiting?.index ?? 0];
  return place && <Ring place={place} viewfinder={viewfinder} />;
}

function Ring({ place, viewfinder }: { place: readonly [number, number, number]; viewfinder: Viewfinder }) {
  const ref = useFollow<HTMLDivElement>(viewfinder, { point: place });
  return (
    <div ref={ref} className="defect-mark" data-testid="defect-mark">
      <svg viewBox="-16 -16 32 32" width="32" height="32" role="img" aria-label={words.defectMark}>
        <circle r="11" />
        <path d="M0-15V-8M0 8V15M-15 0H-8M8 0H15" />
      </svg>
    </div>
  );
}
