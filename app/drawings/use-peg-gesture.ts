import { useMemo, useRef, useState } from 'react';
import type { Vec2 } from './engine.ts';
import { dragPeg, type Handle, pegKey, restorePatch } from './peg-drag.ts';
import { type PegPatch, type PegShape, patchedShape } from './peg-shape.ts';

export type Phase = 'live' | 'commit' | 'cancel';
export type OnPegChange = (id: string, patch: PegPatch, phase: Phase) => void;

interface Gesture {
  by: 'pointer' | 'keys';
  id: string;
  handle: Handle;
  start: PegShape;
  from: Vec2;
  /** All that changed since the start; empty while nothing has. */
  patch: PegPatch;
}

/** A peg being changed: drawn from here until the gesture ends, without waiting for the engine. */
export interface PegGesture {
  active: { id: string; handle: Handle; shape: PegShape; by: 'pointer' | 'keys' } | null;
  begin(id: string, handle: Handle, start: PegShape, at: Vec2): void;
  move(to: Vec2, coarse: boolean): void;
  /** Applies a key to a peg; false when the key does nothing to it. */
  key(id: string, shape: PegShape, key: string, shift: boolean): boolean;
  commit(by?: 'pointer' | 'keys'): void;
  cancel(by?: 'pointer' | 'keys'): void;
}

/** Both changes, the later one where they are of the same. */
const mergedPatch = (before: PegPatch, after: PegPatch): PegPatch => ({
  ...before,
  ...after,
  ...((before.sizes || after.sizes) && { sizes: { ...before.sizes, ...after.sizes } }),
});

const isEmpty = (patch: PegPatch): boolean => Object.keys(patch).length === 0;

/**
 * One gesture at a time. Each change is told as `live`; the end as `commit` with everything
 * that changed, or `cancel` with what it was before. A gesture that changed nothing says nothing.
 */
export function usePegGesture(onPegChange: OnPegChange): PegGesture {
  // The ref is the truth between events; the state only makes the drawing follow.
  const held = useRef<Gesture | null>(null);
  const [shown, setShown] = useState<Gesture | null>(null);
  const hold = (gesture: Gesture | null) => {
    held.current = gesture;
    setShown(gesture);
  };
  const end = (phase: 'commit' | 'cancel') => {
    const g = held.current;
    hold(null);
    if (!g || isEmpty(g.patch)) return;
    onPegChange(g.id, phase === 'commit' ? g.patch : restorePatch(g.start, g.patch), phase);
  };
  const active = useMemo(
    () =>
      shown && {
        id: shown.id,
        handle: shown.handle,
        by: shown.by,
        shape: patchedShape(shown.start, shown.patch),
      },
    [shown],
  );
  return {
    active,
    begin(id, handle, start, at) {
      end('commit');
      hold({ by: 'pointer', id, handle, start, from: at, patch: {} });
    },
    move(to, coarse) {
      const g = held.current;
      if (g?.by !== 'pointer') return;
      const patch = dragPeg(g.start, g.handle, g.from, to, coarse);
      hold({ ...g, patch });
      onPegChange(g.id, patch, 'live');
    },
    key(id, shape, key, shift) {
      const g = held.current;
      if (g && (g.by !== 'keys' || g.id !== id)) end('commit');
      const now = held.current;
      const patch = pegKey(now ? patchedShape(now.start, now.patch) : shape, key, shift);
      if (!patch) return false;
      const handle: Handle = patch.uv ? 'body' : patch.sizes?.spinDeg !== undefined ? 'spin' : 'right';
      const start = now?.start ?? shape;
      const all = mergedPatch(now?.patch ?? {}, patch);
      hold({ by: 'keys', id, handle, start, from: shape.uv, patch: all });
      onPegChange(id, all, 'live');
      return true;
    },
    commit(by) {
      if (held.current && (!by || held.current.by === by)) end('commit');
    },
    cancel(by) {
      if (held.current && (!by || held.current.by === by)) end('cancel');
    },
  };
}
