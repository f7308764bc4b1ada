import { Button } from 'react-aria-components';
import { LIMITS, type Peg, type Seam } from '../../src/index.ts';
import { words } from '../messages.ts';
import { jobOf } from '../state/bench-state.ts';
import { type PegPatch, removePeg, setPeg } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Num } from '../ui/Num.tsx';

type Field = Exclude<keyof Peg, 'kind' | 'at'>;

interface FieldRow {
  field: Field;
  label: string;
  unit: string;
  range: readonly [number, number];
  step: number;
}

const ROWS: readonly FieldRow[] = [
  { field: 'widthMm', label: words.width, unit: words.mm, range: LIMITS.pegWidthMm, step: 0.1 },
  { field: 'heightMm', label: words.height, unit: words.mm, range: LIMITS.pegWidthMm, step: 0.1 },
  { field: 'lengthMm', label: words.length, unit: words.mm, range: LIMITS.pegLengthMm, step: 0.1 },
  { field: 'draftDeg', label: words.draft, unit: words.deg, range: LIMITS.draftDeg, step: 0.5 },
  { field: 'edgeRadiusMm', label: words.edgeRadius, unit: words.mm, range: LIMITS.edgeRadiusMm, step: 0.1 },
  { field: 'spinDeg', label: words.spin, unit: words.deg, range: [-360, 360], step: 1 },
  { field: 'sideGapMm', label: words.sideGap, unit: words.mm, range: LIMITS.sideGapMm, step: 0.01 },
  { field: 'endGapMm', label: words.endGap, unit: words.mm, range: LIMITS.endGapMm, step: 0.05 },
];

/** Fields of one peg. An empty field shows, and takes, the size the engine settled on. */
export function PegFields({ seam, peg, index }: { seam: Seam; peg: Peg; index: number }) {
  const actions = useActions();
  const process = useBench((s) => jobOf(s).process);
  const settled = useBench(
    (s) =>
      s.derived.view?.seams.find((one) => one.id === seam.id)?.pegs.find((one) => one.index === index)?.peg,
  );
  const fallback = (field: Field): number => {
    if (field === 'sideGapMm' || field === 'endGapMm') return process[field];
    return settled?.[field] ?? Number.NaN;
  };
  const patch = (change: PegPatch) => actions.apply((j) => setPeg(j, seam.id, index, change));
  return (
    <div className="field-grid">
      <p className="wide soft peg-kind">
        {words.kinds[peg.kind]}
        {peg.at === 'auto' && `, ${words.pegAuto}`}
      </p>
      {ROWS.map(({ field, label, unit, range, step }) => (
        <Num
          key={field}
          label={label}
          unit={unit}
          value={peg[field]}
          fallback={fallback(field)}
          min={range[0]}
          max={range[1]}
          step={step}
          onCommit={(value) => patch({ [field]: value })}
        />
      ))}
      <p className="wide soft">{words.emptyMeans}</p>
      <Button isDisabled={peg.at === 'auto'} onPress={() => patch({ at: 'auto' })}>
        {words.placeForMe}
      </Button>
      <Button className="quiet" onPress={() => actions.apply((j) => removePeg(j, seam.id, index))}>
        {words.removePeg}
      </Button>
    </div>
  );
}
