import { useMemo } from 'react';
import { Button } from 'react-aria-components';
import { LIMITS, type SweptLine, sweptLine, type Vec3 } from '../../src/index.ts';
import { isHeld } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setLine } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { flatAt, movedLine, shortenedLine, withFlat, withPointOn } from '../tools/line-tool.ts';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { words } from '../words.ts';

const SWEEPS = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] } as const;
type SweepName = keyof typeof SWEEPS;
const SWEEP_OPTIONS = (['x', 'y', 'z'] as const).map((id) => ({ id, text: words.axes[id] }));
const AXES = ['x', 'y', 'z'] as const;
const RUN_OPTIONS = (['straight', 'smooth'] as const).map((id) => ({ id, text: words.lineRunsAre[id] }));

/** Fields of a seam that is swept from a line: how it is swept, and its points one by one. */
export function LineFields({ seamId }: { seamId: string }) {
  const actions = useActions();
  const swept = useSeam(seamId, (seam) => sweptLine(seam.by), isSame);
  const held = useBench(isHeld);
  const chosen = useBench((s) => s.sitting.linePoint);
  const count = swept?.line.length ?? 0;
  const points = useMemo(
    () => Array.from({ length: count }, (_, i) => ({ id: String(i), text: words.linePoint(i + 1, count) })),
    [count],
  );
  if (swept === null) return null;
  const { line, along, runs, flats } = swept;
  const point = Math.min(chosen, line.length - 1);
  const change = (patch: Partial<SweptLine>) => actions.apply((job) => setLine(job, seamId, patch));
  return (
    <>
      <Choice
        label={words.sweptAlong}
        options={SWEEP_OPTIONS}
        chosen={axisOf(along)}
        placeholder={words.sweptAsSeen}
        onChoose={(axis) => change({ along: facing(SWEEPS[axis], along) })}
      />
      <Choice
        label={words.lineAt}
        options={points}
        chosen={String(point)}
        onChoose={(id) => actions.sit({ linePoint: Number(id) })}
      />
      {AXES.map((axis, k) => (
        <Num
          key={axis}
          label={words.linePlace[axis]}
          unit={words.mm}
          value={line[point]![k]!}
          isHeld={held}
          step={0.1}
          onCommit={(mm) => {
            if (mm === undefined) return;
            const to = line[point]!.map((c, i) => (i === k ? mm : c)) as unknown as Vec3;
            change(movedLine(swept, point, to));
          }}
        />
      ))}
      <Choice
        label={words.lineRuns}
        options={RUN_OPTIONS}
        chosen={runs}
        onChoose={(kind) => change({ runs: kind })}
      />
      {runs === 'smooth' && (
        <Num
          label={words.flatHere}
          unit={words.mm}
          value={flatAt(flats, line[point]!)?.widthMm}
          fallback={null}
          min={LIMITS.flatMm[0]}
          max={LIMITS.flatMm[1]}
          isHeld={held}
          step={1}
          onCommit={(widthMm) => change({ flats: withFlat(flats, line[point]!, widthMm) })}
        />
      )}
      <div className="line-buttons wide">
        <Button
          onPress={() => {
            const run = Math.min(point, line.length - 2);
            change({ line: withPointOn(line, run) });
            actions.sit({ linePoint: run + 1 });
          }}
        >
          {words.addLinePoint}
        </Button>
        <Button isDisabled={line.length < 3} onPress={() => change(shortenedLine(swept, point))}>
          {words.removeLinePoint}
        </Button>
      </div>
    </>
  );
}

/** The axis that a sweep goes along, either way; null where it goes along none. */
const axisOf = (along: Vec3): SweepName | null =>
  (Object.keys(SWEEPS) as SweepName[]).find(
    (axis) => Math.abs(dot(SWEEPS[axis], along)) > (1 - 1e-9) * Math.hypot(...along),
  ) ?? null;

/** A direction turned to the side that another one looks to, so that left stays left. */
const facing = (direction: Vec3, like: Vec3): Vec3 =>
  dot(direction, like) < 0 ? [-direction[0], -direction[1], -direction[2]] : direction;

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
