import { Button } from 'react-aria-components';
import { LIMITS, type Peg } from '../../src/index.ts';
import { isHeld, jobOf, pegResultOf } from '../state/bench-state.ts';
import { removePeg, setPeg } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { Num } from '../ui/Num.tsx';
import type { FieldUnit } from '../ui/read-number.ts';
import { words } from '../words.ts';

type Field = Exclude<keyof Peg, 'kind' | 'at'>;

interface FieldRow {
  field: Field;
  label: string;
  unit: FieldUnit;
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

/** One peg of one seam. */
interface PegProps {
  seamId: string;
  index: number;
}

/** Fields of one peg. An empty field shows, and takes, the size the engine settled on. */
export function PegFields({ seamId, index }: PegProps) {
  const actions = useActions();
  const kind = useSeam(seamId, (seam) => seam.pegs[index]?.kind);
  const isAuto = useSeam(seamId, (seam) => seam.pegs[index]?.at === 'auto') ?? false;
  return (
    <div className="field-grid">
      <p className="wide soft peg-kind">
        {kind && words.kinds[kind]}
        {isAuto && `, ${words.pegAuto}`}
      </p>
      {ROWS.map((row) => (
        <PegField key={row.field} seamId={seamId} index={index} row={row} />
      ))}
      <p className="wide soft">{words.emptyMeans}</p>
      <Button
        isDisabled={isAuto}
        onPress={() => actions.apply((j) => setPeg(j, seamId, index, { at: 'auto' }))}
      >
        {words.placeForMe}
      </Button>
      <Button className="quiet" onPress={() => actions.apply((j) => removePeg(j, seamId, index))}>
        {words.removePeg}
      </Button>
    </div>
  );
}

function PegField({ seamId, index, row }: PegProps & { row: FieldRow }) {
  const { field, label, unit, range, step } = row;
  const actions = useActions();
  const value = useSeam(seamId, (seam) => seam.pegs[index]?.[field]) ?? undefined;
  const held = useBench(isHeld);
  const fallback = useBench((s) => {
    if (field === 'sideGapMm' || field === 'endGapMm') return jobOf(s).process[field];
    return pegResultOf(s, seamId, index)?.peg[field] ?? null;
  });
  return (
    <Num
      label={label}
      unit={unit}
      value={value}
      isHeld={held}
      fallback={fallback}
      min={range[0]}
      max={range[1]}
      step={step}
      onCommit={(to) => actions.apply((j) => setPeg(j, seamId, index, { [field]: to }))}
    />
  );
}
