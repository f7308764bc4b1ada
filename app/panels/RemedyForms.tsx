import { useEffect, useState } from 'react';
import { Button } from 'react-aria-components';
import { LIMITS, length, type Mend, type SkinEstimate, sub } from '../../src/index.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Num } from '../ui/Num.tsx';
import { words } from '../words.ts';

interface Kind {
  label: string;
  range: readonly [number, number];
  /** To begin with, as a share of the figure's diagonal. */
  share: number;
  mend: (mm: number) => Mend;
}

const KINDS: Record<'weld' | 'drop-specks', Kind> = {
  weld: {
    label: words.joinWithin,
    range: LIMITS.mendWeldMm,
    share: 0.001,
    mend: (toleranceMm) => ({ do: 'weld', toleranceMm }),
  },
  'drop-specks': {
    label: words.dropBelow,
    range: LIMITS.mendSpeckMm,
    share: 0.01,
    mend: (belowMm) => ({ do: 'drop-specks', belowMm }),
  },
};

/** Asks how far a remedy may reach. */
export function LengthForm({ of }: { of: keyof typeof KINDS }) {
  const actions = useActions();
  const { label, range, share, mend } = KINDS[of];
  const diagonal = useBench((s) => {
    const box = s.derived.summary?.boundsMm;
    return box ? length(sub(box.max, box.min)) : 0;
  });
  const told = useBench((s) =>
    s.derived.summary?.findings.flatMap((f) => (f.code === 'specks-far' ? f.facts.belowMm : [])).at(0),
  );
  const [low, high] = range;
  const proposed = (of === 'drop-specks' ? told : undefined) ?? Number((share * diagonal).toPrecision(2));
  const [mm, setMm] = useState(Math.min(high, Math.max(low, proposed)));
  return (
    <RemedyForm
      label={label}
      mm={mm}
      range={range}
      onCommit={setMm}
      onTry={() => actions.tryMend(mend(mm))}
    />
  );
}

/** Asks for the cell of a new skin, and says what that would come to. */
export function SkinForm() {
  const actions = useActions();
  /** Null until the engine has proposed one. */
  const [cellMm, setCell] = useState<number | null>(null);
  const [estimate, setEstimate] = useState<SkinEstimate | null>(null);
  useEffect(() => {
    let isNewest = true;
    actions.estimateSkin(cellMm).then(
      (answer) => isNewest && setEstimate(answer),
      () => isNewest && setEstimate(null),
    );
    return () => {
      isNewest = false;
    };
  }, [actions, cellMm]);
  const shownMm = cellMm ?? estimate?.cellMm;
  if (shownMm === undefined) return null;
  return (
    <RemedyForm
      label={words.cell}
      mm={shownMm}
      range={LIMITS.reSkinCellMm}
      onCommit={setCell}
      onTry={() => actions.tryMend({ do: 're-skin', cellMm: shownMm })}
      note={
        estimate?.cellMm === shownMm
          ? words.estimate(estimate.triangles, estimate.seconds, estimate.leastCellMm)
          : ''
      }
    />
  );
}

interface RemedyFormProps {
  label: string;
  mm: number;
  range: readonly [number, number];
  onCommit: (mm: number) => void;
  onTry: () => void;
  note?: string;
}

/** A length, what it would come to, and the button that tries it. */
function RemedyForm({ label, mm, range, onCommit, onTry, note }: RemedyFormProps) {
  const isBusy = useBench((s) => s.derived.busy !== null);
  return (
    <div className="field-grid">
      <Num
        label={label}
        unit={words.mm}
        value={mm}
        min={range[0]}
        max={range[1]}
        step={mm / 10}
        decimals={4}
        onCommit={(value) => value !== undefined && onCommit(value)}
      />
      <Button isDisabled={isBusy} onPress={onTry}>
        {words.tryIt}
      </Button>
      {note && (
        <p className="wide soft" data-testid="estimate">
          {note}
        </p>
      )}
    </div>
  );
}
