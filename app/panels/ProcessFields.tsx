import { LIMITS, PROCESSES, type Process } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { setProcess } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { words } from '../words.ts';

const PRESETS = PROCESSES.map(({ id }) => ({ id, text: words.processes[id].label }));

/** How the parts will be printed: clearances per side, least wall, bed. */
export function ProcessFields() {
  const actions = useActions();
  const process = useBench((s) => jobOf(s).process);
  const preset = PROCESSES.find((one) => JSON.stringify(one.process) === JSON.stringify(process));
  const patch = (change: Partial<Process>) => actions.apply((j) => setProcess(j, change));
  const bedSide = (side: number) => (mm: number | undefined) => {
    if (mm === undefined) return;
    const [x, y, z] = process.bedMm.map((old, i) => (i === side ? mm : old));
    patch({ bedMm: [x!, y!, z!] });
  };
  return (
    <div className="field-grid">
      <div className="wide">
        <Choice
          label={words.preset}
          options={PRESETS}
          chosen={preset?.id ?? null}
          placeholder={words.ownValues}
          onChoose={(id) => patch(PROCESSES.find((one) => one.id === id)!.process)}
        />
      </div>
      {preset && <p className="wide soft">{words.processes[preset.id].note}</p>}
      <Num
        label={words.fieldCalled('sideGapMm')}
        unit={words.mm}
        value={process.sideGapMm}
        min={LIMITS.sideGapMm[0]}
        max={LIMITS.sideGapMm[1]}
        step={0.01}
        onCommit={(mm) => mm !== undefined && patch({ sideGapMm: mm })}
      />
      <Num
        label={words.fieldCalled('endGapMm')}
        unit={words.mm}
        value={process.endGapMm}
        min={LIMITS.endGapMm[0]}
        max={LIMITS.endGapMm[1]}
        step={0.05}
        onCommit={(mm) => mm !== undefined && patch({ endGapMm: mm })}
      />
      <Num
        label={words.minWall}
        unit={words.mm}
        value={process.minWallMm}
        min={LIMITS.minWallMm[0]}
        max={LIMITS.minWallMm[1]}
        step={0.1}
        onCommit={(mm) => mm !== undefined && patch({ minWallMm: mm })}
      />
      {process.bedMm.map((mm, side) => (
        <Num
          key={words.bedSides[side]}
          label={words.bedSides[side]!}
          unit={words.mm}
          value={mm}
          min={1}
          step={1}
          onCommit={bedSide(side)}
        />
      ))}
    </div>
  );
}
