import { Button } from 'react-aria-components';
import { heldPlane, LIMITS, type NestResult, nestingOf, type Side, type Vec3 } from '../../src/index.ts';
import { seamResultOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setFlat, setNesting } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { throughPoint } from '../tools/seam-tool.ts';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { useStale } from '../ui/StaleNote.tsx';
import { numeral, words } from '../words.ts';

/** Of a seam that joins two bodies: that nothing is cut, or which of them gives way, by what gap, and a flat across them. */
export function NestFields({ seamId }: { seamId: string }) {
  const actions = useActions();
  const names = useSeam(seamId, (seam) => seam.names, isSame);
  const asked = useSeam(seamId, (seam) => nestingOf(seam.by), isSame);
  const nest = useBench((s) => seamResultOf(s, seamId)?.nest ?? null, isSame);
  const touch = useBench((s) => seamResultOf(s, seamId)?.touch ?? null, isSame);
  if (names === null || asked === null) return null;
  if (nest === null && asked.gives === null && asked.gapMm === 0)
    return (
      <>
        <p className="wide soft">{asked.flat ? words.joinsOnFlat : words.joinsTouching}</p>
        <FlatButton seamId={seamId} middle={touch?.middle ?? null} />
      </>
    );
  const change = (to: Parameters<typeof setNesting>[2]) => actions.apply((j) => setNesting(j, seamId, to));
  return (
    <>
      {nest && <NestFacts seamId={seamId} nest={nest} names={names} />}
      <div className="wide">
        <Choice
          label={words.givesWay}
          options={(['front', 'back'] as const).map((id) => ({ id, text: names[id] }))}
          chosen={asked.gives ?? nest?.gives ?? null}
          onChoose={(gives: Side) => change({ gives })}
        />
      </div>
      <Num
        label={words.nestGap}
        unit={words.mm}
        value={asked.gapMm}
        min={LIMITS.nestGapMm[0]}
        max={LIMITS.nestGapMm[1]}
        step={0.05}
        onCommit={(mm) => mm !== undefined && change({ gapMm: mm })}
      />
      {asked.gapMm > 0 && (
        <Num
          label={words.rimWidth}
          unit={words.mm}
          value={asked.rimMm}
          min={LIMITS.rimMm[0]}
          max={LIMITS.rimMm[1]}
          step={0.5}
          onCommit={(mm) => mm !== undefined && change({ rimMm: mm })}
        />
      )}
      <FlatButton seamId={seamId} middle={nest?.middle ?? null} />
    </>
  );
}

/** Sets a flat across the middle of where both meet, square to the way they come apart; or takes it away. */
function FlatButton({ seamId, middle }: { seamId: string; middle: Vec3 | null }) {
  const actions = useActions();
  const hasFlat = useSeam(seamId, (seam) => heldPlane(seam.by) !== null);
  const axis = useBench((s) => seamResultOf(s, seamId)?.draw.axis ?? null, isSame);
  if (hasFlat)
    return (
      <Button className="wide" onPress={() => actions.apply((j) => setNesting(j, seamId, { flat: null }))}>
        {words.removeFlat}
      </Button>
    );
  if (middle === null || axis === null) return null;
  const normal = tidy(axis);
  return (
    <Button
      className="wide"
      onPress={() => actions.apply((j) => setFlat(j, seamId, throughPoint(normal, middle), middle))}
    >
      {words.setFlat}
    </Button>
  );
}

/** A way whose small shares are rounding is one along an axis: a job then reads as a person would have it. */
const tidy = (way: Vec3): Vec3 => {
  const [x, y, z] = way.map((value) => Math.round(value * 1e6) / 1e6 + 0);
  return [x!, y!, z!];
};

/** Which one gave way, and the gap as it was measured. */
function NestFacts({
  seamId,
  nest,
  names,
}: {
  seamId: string;
  nest: NestResult;
  names: Readonly<Record<Side, string>>;
}) {
  const stale = useStale(seamId);
  const { gives, trimmedMm3, asked, gapMm, rimGapMm } = nest;
  const keeps = gives === 'front' ? 'back' : 'front';
  return (
    <p className="wide soft" data-testid="nest-facts" {...stale}>
      {words.joinsOverlapping(names[gives], names[keeps], numeral(trimmedMm3, 1))}
      {asked.gapMm > 0 && gapMm && (
        <span className="numerals">
          {' '}
          {words.gapMeasured(numeral(gapMm.min, 3), numeral(gapMm.max, 3))}
          {rimGapMm !== null && `, ${words.gapAtRim(numeral(rimGapMm, 3))}`}.
        </span>
      )}
    </p>
  );
}
