import { memo, useCallback, useMemo, useRef } from 'react';
import './drawing.css';
import type { KnownJoint } from '../state/settled-joints.ts';
import { drawingWords } from '../words.ts';
import type { FaceResult, JointResult, Side, Vec2 } from './engine.ts';
import { ContourLabels, type Contours, FaceContours } from './FaceContours.tsx';
import { FaceNotes } from './FaceNotes.tsx';
import { type ChoosableOutline, FaceOutlines } from './FaceOutlines.tsx';
import { FacePeg } from './FacePeg.tsx';
import { type DrawnPeg, drawnPegs, withUnmoved } from './face-model.ts';
import { takenRooms } from './face-rooms.ts';
import { OutlineCorners } from './OutlineCorners.tsx';
import { OutlineDraft } from './OutlineDraft.tsx';
import { PegHandles } from './PegHandles.tsx';
import { PegReadout } from './PegReadout.tsx';
import { ScaleBar } from './ScaleBar.tsx';
import { outlinesPath } from './svg-path.ts';
import { toldPeg } from './told-peg.ts';
import { TUNING } from './tuning.ts';
import { type FaceWishes, useFaceInput } from './use-face-input.ts';
import { type OnPegChange, usePegGesture } from './use-peg-gesture.ts';
import { useViewport } from './use-viewport.ts';
import { boundsOf, fitView, type Rect, type Size, toScreen, type View } from './view.ts';
import { WallDimension } from './WallDimension.tsx';
import './FaceDrawing.css';

export interface FaceDrawingProps extends FaceWishes {
  face: FaceResult;
  /** Its joints as the engine measured them. */
  measured: readonly JointResult[];
  contours: Contours;
  pegOn: Side;
  /** The job's joints, as they are numbered. */
  joints: readonly KnownJoint[];
  onPegChange: OnPegChange;
  /** The plane's outlines, where there are several and one may be chosen. */
  choices: readonly ChoosableOutline[];
  joining: ChoosableOutline | null;
  onToggleOutline(place: number): void;
  minWallMm: number;
  /** The face of a seam still being dragged: drawn in place of the other, with pegs as their sizes have them. */
  liveOutline?: FaceResult | null;
  disabled?: boolean;
}

const NOTHING_MEASURED: readonly JointResult[] = [];

const helpFor = ({ adding, outlining }: FaceDrawingProps): string =>
  outlining ? drawingWords.outlineHelp : adding ? drawingWords.addHelp : drawingWords.faceHelp;

/** The seam face laid flat, seen from the front: outlines, contours of equal wall, pegs to be moved, sized and spun. */
export function FaceDrawing(props: FaceDrawingProps) {
  const { contours, selectedPeg, minWallMm, liveOutline, disabled = false } = props;
  const face = liveOutline ?? props.face;
  const measured = liveOutline ? NOTHING_MEASURED : props.measured;
  const locked = disabled || Boolean(liveOutline);
  const { choices } = props;
  const bounds = useMemo(
    () => boundsOf(choices.length > 0 ? [...face.outlines, ...face.uncut] : face.outlines),
    [face.outlines, face.uncut, choices.length],
  );
  const port = useViewport(useCallback((size) => fitView(bounds, paperOf(size)), [bounds]));
  const gesture = usePegGesture(props.onPegChange);
  const held = gesture.active;
  const { pegOn, joints } = props;
  const before = useRef<readonly DrawnPeg[]>([]);
  const drawn = useMemo(
    () => withUnmoved(before.current, drawnPegs(measured, pegOn, joints, face, held)),
    [measured, pegOn, joints, face, held],
  );
  before.current = drawn;
  const input = useFaceInput({ props, face, locked, port, gesture });
  const chosen = drawn.find((d) => d.id === selectedPeg);
  const { view, size } = port;

  return (
    <div
      className="drawing face-drawing"
      data-locked={locked || undefined}
      data-adding={props.adding || props.outlining !== null || undefined}
    >
      <svg
        ref={port.ref}
        className="drawing-paper"
        role="application"
        aria-label={`${drawingWords.face}. ${helpFor(props)}`}
        {...input.paper}
      >
        {port.ready && (
          <>
            <FaceGround outlines={face.outlines} view={view} />
            <path className="face-uncut" d={outlinesPath(view, face.uncut)} />
            <FaceContours contours={contours} view={view} />
            {choices.length > 0 && !disabled && (
              <FaceOutlines
                groups={choices}
                joining={props.joining}
                view={view}
                onToggle={props.onToggleOutline}
              />
            )}
            {drawn.map((d) => (
              <FacePeg
                key={d.id}
                drawn={d}
                view={view}
                selected={d === chosen}
                thin={d.wall !== null && d.wall.mm < minWallMm}
                {...input.peg}
              />
            ))}
            {!liveOutline && !held && (
              <ContourLabels
                contours={contours}
                view={view}
                size={size}
                taken={takenRooms(drawn, chosen, face, view)}
              />
            )}
            {drawn.map((d) =>
              d.wall && (d === chosen || d.wall.mm < minWallMm) ? (
                <WallDimension key={d.id} wall={d.wall} minWallMm={minWallMm} view={view} size={size} />
              ) : null,
            )}
            {chosen && !locked && !props.outlining && held?.handle !== 'body' && (
              <PegHandles
                shape={chosen.shape}
                view={view}
                held={held?.handle ?? null}
                onGrab={(handle, event) => input.peg.onGrab(chosen, handle, event)}
              />
            )}
            {chosen && !locked && !props.outlining && held?.handle !== 'body' && (
              <OutlineCorners
                shape={chosen.shape}
                view={view}
                held={held?.handle ?? null}
                onGrab={(handle, event) => input.peg.onGrab(chosen, handle, event)}
              />
            )}
            {props.outlining && !locked && (
              <OutlineDraft points={props.outlining} at={input.hover} view={view} />
            )}
            {chosen && held && <PegReadout shape={chosen.shape} handle={held.handle} view={view} />}
            {input.cross && !locked && <Cross at={toScreen(view, input.cross)} />}
            <FaceNotes
              drawn={drawn}
              moving={held?.handle === 'body' ? (chosen ?? null) : null}
              minWallMm={minWallMm}
              size={size}
            />
            <ScaleBar pxPerMm={view.scale} x={10} foot={size.height - 4} room={size.width - 20} />
          </>
        )}
      </svg>
      <output className="drawing-spoken">
        {chosen &&
          drawingWords.pegLabel(
            chosen.index,
            toldPeg(chosen.shape),
            chosen.wall?.mm ?? null,
            chosen.wall?.broken ?? false,
          )}
      </output>
    </div>
  );
}

/** The room a fitted face takes: padded, and clear of the scale bar. */
const paperOf = ({ width, height }: Size): Rect => ({
  x: TUNING.fitPaddingPx,
  y: TUNING.fitPaddingPx,
  width: width - 2 * TUNING.fitPaddingPx,
  height: height - 2 * TUNING.fitPaddingPx - TUNING.scaleRowPx,
});

/** The face itself, in the earth of the part with the sockets. */
const FaceGround = memo(({ outlines, view }: { outlines: readonly Float64Array[]; view: View }) => (
  <path className="face-ground" d={outlinesPath(view, outlines)} data-testid="face-outline" />
));

/** Where Enter would set a peg. */
function Cross({ at: [x, y] }: { at: Vec2 }) {
  return (
    <path
      className="face-cross"
      data-testid="face-cross"
      d={`M${x - 12} ${y}h9m6 0h9M${x} ${y - 12}v9m0 6v9`}
    />
  );
}
