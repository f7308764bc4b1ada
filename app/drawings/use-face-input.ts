import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react';
import type { PointerPlace } from '../ui/pointer-place.ts';
import { useSteady } from '../ui/use-steady.ts';
import type { FaceResult, Vec2 } from './engine.ts';
import type { DrawnPeg } from './face-model.ts';
import { isInside } from './nearest-between.ts';
import { arrowDirection, type Handle, roundStep } from './peg-drag.ts';
import { TUNING } from './tuning.ts';
import type { PegGesture } from './use-peg-gesture.ts';
import type { Viewport } from './use-viewport.ts';
import { boundsOf, toWorld } from './view.ts';

/** What a hand can ask for on the face, beside changing a peg. Pegs go by their index in the seam. */
export interface FaceWishes {
  selectedPeg: string | null;
  onSelectPeg(id: string | null): void;
  /** `uv` is in the seam's frame, mm. */
  onAddPeg(uv: Vec2): void;
  /** A peg was to be set beside the face. */
  onMissFace(): void;
  onRemovePeg(id: string): void;
  /** While true, a click inside the outline (or Enter at the cross) sets a peg. */
  adding: boolean;
  /** The corners of an outline that is being drawn, in the seam's frame; a click sets one more. Null while none is. */
  outlining: readonly Vec2[] | null;
  onOutlineCorner(uv: Vec2): void;
  onOutlineClose(): void;
  onOutlineTakeBack(): void;
}

export interface FaceInputs {
  props: FaceWishes;
  face: FaceResult;
  locked: boolean;
  port: Viewport;
  gesture: PegGesture;
}

/** What pointer and keys do on the face: grab a peg, pan the paper, set a peg, step a peg or the cross. */
export function useFaceInput({ props, face, locked, port, gesture }: FaceInputs) {
  const { adding } = props;
  const [cross, setCross] = useState<Vec2 | null>(null);
  const [hover, setHover] = useState<Vec2 | null>(null);
  const { outlining } = props;
  const spaceHeld = useRef(false);
  useEscape(gesture.active?.by === 'pointer', () => gesture.cancel('pointer'));

  const world = (event: PointerPlace): Vec2 => toWorld(port.view, port.point(event));
  const setCorner = (at: Vec2): void => {
    const first = outlining?.[0];
    const isFirst =
      first && Math.hypot(at[0] - first[0], at[1] - first[1]) * port.view.scale < TUNING.closePx;
    if (isFirst && outlining.length > 2) props.onOutlineClose();
    else
      props.onOutlineCorner([roundStep(at[0], TUNING.cornerStepMm), roundStep(at[1], TUNING.cornerStepMm)]);
  };
  const outlineKey = (event: KeyboardEvent): boolean => {
    if (event.key === 'Enter') props.onOutlineClose();
    else if (event.key === 'Backspace' || event.key === 'Delete') props.onOutlineTakeBack();
    else return false;
    return true;
  };
  const place = (at: Vec2): void => {
    if (locked) return;
    if (outlining) setCorner(at);
    else if (!adding) return;
    else if (!isInside(face.outlines, at[0], at[1])) props.onMissFace();
    else props.onAddPeg([roundStep(at[0], TUNING.moveStepMm), roundStep(at[1], TUNING.moveStepMm)]);
  };
  const paperKey = (event: KeyboardEvent): boolean => {
    if (outlining && outlineKey(event)) return true;
    const arrow = arrowDirection(event.key);
    if (arrow && adding) {
      const by = TUNING.keyCursorMm[event.shiftKey ? 1 : 0];
      setCross((old) => {
        const [x, y] = old ?? middleOf(face);
        return [x + by * arrow[0], y + by * arrow[1]];
      });
    } else if (arrow) port.pan(-arrow[0] * TUNING.keyPanPx, arrow[1] * TUNING.keyPanPx);
    else if (event.key === 'Enter' && adding) place(cross ?? middleOf(face));
    else if (event.key === '+' || event.key === '=') port.zoom(TUNING.keyZoom);
    else if (event.key === '-') port.zoom(1 / TUNING.keyZoom);
    else if (event.key === '0') port.fit();
    // While a peg is being added, Escape is the page's: it leaves the adding, wherever the focus is.
    else if (event.key === 'Escape' && (adding || outlining)) return false;
    // A stray click on the paper keeps the peg chosen, and its section with it; Escape lets go.
    else if (event.key === 'Escape') props.onSelectPeg(null);
    else return false;
    return true;
  };
  const pegKey = (d: DrawnPeg, event: KeyboardEvent): boolean => {
    if (event.key === 'Enter' || event.key === ' ') props.onSelectPeg(d.id);
    else if (locked) return false;
    else if (event.key === 'Delete' || event.key === 'Backspace') props.onRemovePeg(d.id);
    else if (event.key === 'Escape' && gesture.active) gesture.cancel('keys');
    else if (event.key === 'Escape' && adding) return false;
    else if (event.key === 'Escape') props.onSelectPeg(null);
    else {
      const changed = gesture.key(d.id, d.shape, event.key, event.shiftKey);
      if (changed && props.selectedPeg !== d.id) props.onSelectPeg(d.id);
      return changed;
    }
    return true;
  };
  const isPlain = (event: KeyboardEvent) => !event.ctrlKey && !event.metaKey && !event.altKey;
  const grab = (d: DrawnPeg, handle: Handle, event: PointerEvent): void => {
    if (event.button !== 0 || spaceHeld.current || locked || outlining) return;
    event.stopPropagation();
    if (props.selectedPeg !== d.id) props.onSelectPeg(d.id);
    port.ref.current?.setPointerCapture(event.pointerId);
    gesture.begin(d.id, handle, d.shape, world(event));
  };
  const operate = (d: DrawnPeg, event: KeyboardEvent): void => {
    if (isPlain(event) && pegKey(d, event)) event.preventDefault();
  };
  const leave = () => gesture.commit('keys');

  return {
    cross: adding ? (cross ?? middleOf(face)) : null,
    hover: outlining ? hover : null,
    paper: {
      tabIndex: 0,
      onPointerDown: port.startPan,
      onPointerMove(event: PointerEvent<SVGSVGElement>) {
        if (outlining) setHover(world(event));
        if (port.movePan(event)) return;
        if (gesture.active?.by === 'pointer') gesture.move(world(event), event.shiftKey);
      },
      onPointerUp(event: PointerEvent<SVGSVGElement>) {
        const { panned, click } = port.endPan();
        if (!panned) gesture.commit('pointer');
        else if (click && event.button === 0 && !spaceHeld.current) place(world(event));
      },
      onLostPointerCapture: () => gesture.cancel('pointer'),
      onDoubleClick: port.fit,
      onKeyDown(event: KeyboardEvent<SVGSVGElement>) {
        if (event.key === ' ') spaceHeld.current = true;
        const own = event.target === event.currentTarget && isPlain(event) && paperKey(event);
        if (own || event.key === ' ') event.preventDefault();
      },
      onKeyUp(event: KeyboardEvent<SVGSVGElement>) {
        if (event.key === ' ') spaceHeld.current = false;
      },
    },
    peg: { onGrab: useSteady(grab), onKey: useSteady(operate), onLeave: useSteady(leave) },
  };
}

function middleOf(face: FaceResult): Vec2 {
  const { min, max } = boundsOf(face.outlines);
  return [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2];
}

/** Escape during a drag, wherever the focus is, and before anything else hears it. */
function useEscape(on: boolean, then: () => void): void {
  const latest = useRef(then);
  useEffect(() => {
    latest.current = then;
  });
  useEffect(() => {
    if (!on) return;
    const listen = (event: globalThis.KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.stopPropagation();
      latest.current();
    };
    window.addEventListener('keydown', listen, { capture: true });
    return () => window.removeEventListener('keydown', listen, { capture: true });
  }, [on]);
}
