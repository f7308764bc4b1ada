import { useMemo } from 'react';
import { Button, ToggleButton } from 'react-aria-components';
import { type FaceResult, heldPlane, joinedBy, sweptLine, type Vec3 } from '../../src/index.ts';
import { useHandle } from '../bench/use-handle.ts';
import { faceOnBench, facesOnBench, isBentAllAlong, isHeld } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { setPlane, setSeam } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { throughPoint } from '../tools/seam-tool.ts';
import { homeAxis, normalOf, type Tilt, tiltOf } from '../tools/tilt.ts';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { useStale } from '../ui/StaleNote.tsx';
import { Words } from '../ui/Words.tsx';
import { numeral, words } from '../words.ts';
import { LineFields } from './LineFields.tsx';
import './LineFields.css';
import { MirrorFields } from './MirrorFields.tsx';
import { NestFields } from './NestFields.tsx';
import { PlacePegs } from './PlacePegs.tsx';

const SQUARE: Record<'x' | 'y' | 'z', Vec3> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };
const SQUARE_OPTIONS = (['x', 'y', 'z'] as const).map((id) => ({ id, text: words.axes[id] }));
type AxisName = keyof typeof SQUARE;

interface SeamFieldsProps {
  seamId: string;
  /** The seam is a mirror image that was made from these fields. */
  isFresh: boolean;
  onMirrored: () => void;
}

/** Fields of a seam: names, where it lies, which side carries the peg, and the face it makes. */
export function SeamFields({ seamId, ...made }: SeamFieldsProps) {
  const actions = useActions();
  const joins = useSeam(seamId, (seam) => joinedBy(seam.by) !== null);
  const isSwept = useSeam(seamId, (seam) => sweptLine(seam.by) !== null);
  return (
    <div className="field-grid">
      <NameFields seamId={seamId} />
      {joins && <NestFields seamId={seamId} />}
      {isSwept ? <LineFields seamId={seamId} /> : <PlaneFields seamId={seamId} />}
      {!joins && (
        <>
          {!isSwept && <LimbButtons />}
          <DrawLine />
          <MirrorFields {...made} />
        </>
      )}
      <PlacePegs seamId={seamId} />
      <FaceFacts seamId={seamId} />
      <Button className="wide quiet" onPress={() => actions.removeSeam(seamId)}>
        {words.removeSeam}
      </Button>
    </div>
  );
}

/** Lays the seam where the limb it cuts is narrowest, or one that is clicked, or turns it square to it. */
function LimbButtons() {
  const actions = useActions();
  const seeking = useBench((s) => s.sitting.seeking);
  return (
    <>
      <Button onPress={() => actions.goNarrowest(null)}>{words.narrowestHere}</Button>
      <ToggleButton
        aria-label={seeking ? words.seeking : words.narrowestAtClick}
        isSelected={seeking}
        // Where parts are pulled apart a click is not where it seems.
        onChange={(is) => actions.sit({ seeking: is, ...(is && { explode: 0, apart: [], clipped: false }) })}
      >
        {seeking ? words.seeking : words.atClick}
      </ToggleButton>
      <Button className="wide" onPress={actions.squareToLimb}>
        {words.squareToLimb}
      </Button>
    </>
  );
}

/** Draws a line over the figure, click by click, that the seam is swept from. */
function DrawLine() {
  const actions = useActions();
  const points = useBench(({ sitting }) => sitting.drawing?.points.length ?? null);
  if (points === null)
    return (
      <Button className="wide" onPress={actions.line.begin}>
        {words.drawLine}
      </Button>
    );
  return (
    <div className="line-buttons wide">
      <p className="soft" role="status">
        {words.drawingLine(points)}
      </p>
      <Button isDisabled={points < 2} onPress={actions.line.finish}>
        {words.finishLine}
      </Button>
      <Button onPress={actions.line.cancel}>{words.cancelLine}</Button>
    </div>
  );
}

function NameFields({ seamId }: { seamId: string }) {
  const actions = useActions();
  const names = useSeam(seamId, (seam) => seam.names);
  const pegOn = useSeam(seamId, (seam) => seam.pegOn);
  const sides = useMemo(
    () => names && (['front', 'back'] as const).map((id) => ({ id, text: names[id] })),
    [names],
  );
  if (names === null || sides === null) return null;
  return (
    <>
      <Words
        label={words.frontName}
        value={names.front}
        onCommit={(front) => actions.apply((j) => setSeam(j, seamId, { names: { ...names, front } }))}
      />
      <Words
        label={words.backName}
        value={names.back}
        onCommit={(back) => actions.apply((j) => setSeam(j, seamId, { names: { ...names, back } }))}
      />
      <div className="wide">
        <Choice
          label={words.pegOn}
          options={sides}
          chosen={pegOn}
          onChoose={(side) => actions.apply((j) => setSeam(j, seamId, { pegOn: side }))}
        />
      </div>
    </>
  );
}

function PlaneFields({ seamId }: { seamId: string }) {
  const actions = useActions();
  const handle = useHandle();
  const plane = useSeam(seamId, (seam) => heldPlane(seam.by), isSame);
  const held = useBench(isHeld);
  const keptHome = useBench((s) => s.sitting.homes[seamId]);
  if (plane === null) return null;
  const home = keptHome ?? homeAxis(plane.normal);
  const unit: Vec3 = handle?.n ?? plane.normal;
  const tilt = tiltOf(home, unit);
  const square =
    (Object.keys(SQUARE) as AxisName[]).find((axis) => Math.abs(dot(SQUARE[axis], unit)) > 1 - 1e-9) ?? null;
  // The seam turns about the middle of its face, as it does under the knobs.
  const turnTo = (normal: Vec3) =>
    handle && actions.apply((j) => setPlane(j, seamId, throughPoint(normal, handle.centre)));
  const tiltTo = (patch: Partial<Tilt>) => turnTo(normalOf(home, { ...tilt, ...patch }));
  return (
    <>
      <Choice
        label={words.squareTo}
        options={SQUARE_OPTIONS}
        chosen={square}
        placeholder={words.axes.none}
        onChoose={(axis) => turnTo(SQUARE[axis])}
      />
      <Num
        label={words.offset}
        unit={words.mm}
        value={plane.offsetMm}
        isHeld={held}
        step={0.1}
        onCommit={(mm) =>
          mm !== undefined && actions.apply((j) => setPlane(j, seamId, { ...plane, offsetMm: mm }))
        }
      />
      <Num
        label={words.tiltAcross}
        unit={words.deg}
        value={tidy(tilt.acrossDeg)}
        isHeld={held}
        min={-180}
        max={180}
        step={0.5}
        onCommit={(deg) => deg !== undefined && tiltTo({ acrossDeg: deg })}
      />
      <Num
        label={words.tiltAlong}
        unit={words.deg}
        value={tidy(tilt.alongDeg)}
        isHeld={held}
        min={-90}
        max={90}
        step={0.5}
        onCommit={(deg) => deg !== undefined && tiltTo({ alongDeg: deg })}
      />
    </>
  );
}

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
/** Angles to a thousandth: what lies below is noise of the sines. */
const tidy = (deg: number) => Math.round(deg * 1000) / 1000 + 0;

const sumOf = (faces: readonly FaceResult[]) => faces.reduce((sum, face) => sum + face.areaMm2, 0);

/** Area and perimeter of the seam's face, following a drag; of one that is curved all along its whole area. */
function FaceFacts({ seamId }: { seamId: string }) {
  const stale = useStale(seamId);
  const areaMm2 = useBench((s) =>
    isBentAllAlong(s, seamId) ? sumOf(facesOnBench(s, seamId)) : faceOnBench(s, seamId)?.areaMm2,
  );
  const perimeterMm = useBench((s) =>
    isBentAllAlong(s, seamId) ? undefined : faceOnBench(s, seamId)?.perimeterMm,
  );
  return (
    <dl className="facts wide" {...stale}>
      <dt>{words.area}</dt>
      <dd className="numerals">
        <span data-testid="seam-area">{areaMm2 === undefined ? '–' : numeral(areaMm2, 1)}</span> mm²
      </dd>
      <dt>{words.perimeter}</dt>
      <dd className="numerals">
        <span data-testid="seam-perimeter">{perimeterMm === undefined ? '–' : numeral(perimeterMm, 1)}</span>{' '}
        mm
      </dd>
    </dl>
  );
}
