import { useMemo } from 'react';
import { Button, ToggleButton } from 'react-aria-components';
import {
  dot,
  type FaceResult,
  heldPlane,
  joinedBy,
  normalize,
  type SeamPlane,
  sweptLine,
  type Vec3,
} from '../../src/index.ts';
import { createHandleOf } from '../bench/handle-of.ts';
import {
  type BenchState,
  faceOnBench,
  facesOnBench,
  isBentAllAlong,
  isHeld,
  jobOf,
} from '../state/bench-state.ts';
import { findSeam, setPlane, setSeam } from '../state/job-edits.ts';
import { useActions, useBench, useBenchStore, useSeam } from '../state/workbench.tsx';
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

/** Each is a component of its own, so that a hand that moves the seam has those fields drawn whose value changes. */
function PlaneFields({ seamId }: { seamId: string }) {
  const hasPlane = useSeam(seamId, (seam) => heldPlane(seam.by) !== null);
  if (!hasPlane) return null;
  return (
    <>
      <SquareChoice seamId={seamId} />
      <OffsetField seamId={seamId} />
      <TiltField seamId={seamId} angle="acrossDeg" label={words.tiltAcross} limitDeg={180} />
      <TiltField seamId={seamId} angle="alongDeg" label={words.tiltAlong} limitDeg={90} />
    </>
  );
}

/** Turns the chosen seam about the middle of its face, as it does under the knobs. */
function useTurn(seamId: string): (normal: Vec3) => void {
  const actions = useActions();
  const store = useBenchStore();
  const handleOf = useMemo(createHandleOf, []);
  return (normal) => {
    const handle = handleOf(store.getState());
    if (handle !== null) actions.apply((j) => setPlane(j, seamId, throughPoint(normal, handle.centre)));
  };
}

function SquareChoice({ seamId }: { seamId: string }) {
  const turnTo = useTurn(seamId);
  const square = useSeam(seamId, (seam) => squareTo(heldPlane(seam.by)));
  return (
    <Choice
      label={words.squareTo}
      options={SQUARE_OPTIONS}
      chosen={square}
      placeholder={words.axes.none}
      onChoose={(axis) => turnTo(SQUARE[axis])}
    />
  );
}

/** The axis that a plane is square to; null where it leans. */
function squareTo(held: SeamPlane | null): AxisName | null {
  if (held === null) return null;
  const normal = normalize(held.normal);
  const axes = Object.keys(SQUARE) as AxisName[];
  return axes.find((axis) => Math.abs(dot(SQUARE[axis], normal)) > 1 - 1e-9) ?? null;
}

function OffsetField({ seamId }: { seamId: string }) {
  const actions = useActions();
  const offsetMm = useSeam(seamId, (seam) => heldPlane(seam.by)?.offsetMm ?? null);
  const held = useBench(isHeld);
  if (offsetMm === null) return null;
  const moveTo = (mm: number) =>
    actions.apply((j) => {
      const seam = findSeam(j, seamId);
      const plane = seam && heldPlane(seam.by);
      return plane ? setPlane(j, seamId, { ...plane, offsetMm: mm }) : j;
    });
  return (
    <Num
      label={words.offset}
      unit={words.mm}
      value={offsetMm}
      isHeld={held}
      step={0.1}
      onCommit={(mm) => mm !== undefined && moveTo(mm)}
    />
  );
}

interface TiltFieldProps {
  seamId: string;
  angle: keyof Tilt;
  label: string;
  limitDeg: number;
}

function TiltField({ seamId, angle, label, limitDeg }: TiltFieldProps) {
  const turnTo = useTurn(seamId);
  const store = useBenchStore();
  const deg = useBench((s) => tiltIn(s, seamId)?.tilt[angle] ?? null);
  const held = useBench(isHeld);
  if (deg === null) return null;
  const tiltTo = (to: number) => {
    const now = tiltIn(store.getState(), seamId);
    if (now !== null) turnTo(normalOf(now.home, { ...now.tilt, [angle]: to }));
  };
  return (
    <Num
      label={label}
      unit={words.deg}
      value={tidy(deg)}
      isHeld={held}
      min={-limitDeg}
      max={limitDeg}
      step={0.5}
      onCommit={(to) => to !== undefined && tiltTo(to)}
    />
  );
}

/** How a seam leans, and from which axis that is told; null for one that is held by no plane. */
function tiltIn(state: BenchState, seamId: string): { home: Vec3; tilt: Tilt } | null {
  const seam = findSeam(jobOf(state), seamId);
  const held = seam && heldPlane(seam.by);
  if (!held) return null;
  const home = state.sitting.homes[seamId] ?? homeAxis(held.normal);
  return { home, tilt: tiltOf(home, normalize(held.normal)) };
}

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
