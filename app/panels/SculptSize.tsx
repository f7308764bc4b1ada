import { Button } from 'react-aria-components';
import { LIMITS, MM_PER_UNIT, proposeUnit, type SculptSummary, UNITS, type Unit } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { betterUnit, fileSize } from '../state/placing.ts';
import { setScale, setUnit } from '../state/sculpt-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { words } from '../words.ts';
import './SculptSize.css';

/** How large the figure is taken: the unit of its file, its height, its scale. */
export function SculptSize({ summary }: { summary: SculptSummary }) {
  const actions = useActions();
  const { sculpt } = useBench(jobOf);
  const openedAs = useBench((s) => s.derived.openedAs) ?? sculpt;
  const unit = sculpt.unit ?? summary.unit;
  const inFile = fileSize(openedAs, summary);
  const sizeIn = (of: Unit, scale = sculpt.scale) => inFile.map((side) => side * MM_PER_UNIT[of] * scale);
  const proposed = proposeUnit(inFile);
  const noteOf = (of: Unit) => {
    if (summary.declaredUnit !== null) return of === summary.declaredUnit ? words.unitDeclared : '';
    return of === proposed ? words.unitProposed : '';
  };
  const height = sizeIn(unit)[2]!;
  const standHigh = (mm: number | undefined) =>
    mm && height > 0 && actions.apply((j) => setScale(j, (j.sculpt.scale * mm) / height, summary.unit));
  const scaleTo = (times: number | undefined) =>
    times && actions.apply((j) => setScale(j, 1 / times, summary.unit));
  return (
    <section aria-labelledby="size-title">
      <h3 id="size-title">{words.size}</h3>
      <p className="numerals" data-testid="sculpt-size">
        {words.fileSize(sizeIn(unit))}
      </p>
      <UnitAdvice summary={summary} sizeIn={sizeIn} />
      <div className="field-grid">
        <div className="wide">
          <Choice<Unit>
            label={words.unit}
            options={UNITS.map((id) => ({
              id,
              text: words.units[id],
              note: `${words.fileSize(sizeIn(id))}${noteOf(id)}`,
            }))}
            chosen={unit}
            onChoose={(id) => actions.apply((j) => setUnit(j, id, summary.unit))}
          />
        </div>
        <Num
          label={words.standsHigh}
          unit={words.mm}
          value={height}
          min={0.001}
          step={1}
          onCommit={standHigh}
        />
        <Num
          label={words.scaleOneTo}
          unit=""
          value={1 / sculpt.scale}
          min={1 / LIMITS.scale[1]}
          max={1 / LIMITS.scale[0]}
          step={1}
          decimals={4}
          onCommit={scaleTo}
        />
      </div>
    </section>
  );
}

interface UnitAdviceProps {
  summary: SculptSummary;
  sizeIn: (unit: Unit) => number[];
}

/** What the file says of its unit or, where it says nothing and its size is unlikely, a likelier one. */
function UnitAdvice({ summary, sizeIn }: UnitAdviceProps) {
  const actions = useActions();
  const { sculpt } = useBench(jobOf);
  const { unit, declaredUnit } = summary;
  if (declaredUnit !== null) return <p className="soft">{words.unitSaid(words.units[declaredUnit])}</p>;
  const better = betterUnit(sculpt, summary);
  if (better === null) return null;
  return (
    <div className="advice" data-testid="unit-advice">
      <p>
        {words.unitBetter(words.fileSize(sizeIn(unit)), words.units[better], words.fileSize(sizeIn(better)))}
      </p>
      <Button onPress={() => actions.apply((j) => setUnit(j, better, unit))}>
        {words.takeUnit(words.units[better])}
      </Button>
    </div>
  );
}
