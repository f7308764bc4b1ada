import { isSame } from './is-same.ts';

/**
 * A line of past and future values with one present. A gesture (a drag, say) changes the present
 * many times and leaves one step behind; cancelling it gives back the very value it began with.
 */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  readonly future: readonly T[];
  /** The present as it was when the running gesture began; null between gestures. */
  readonly before: T | null;
}

/** Steps kept; older ones fall off. A job is a few kilobytes. */
const KEPT_STEPS = 500;

export const startHistory = <T>(present: T): History<T> => ({ past: [], present, future: [], before: null });

const pushed = <T>(past: readonly T[], value: T): T[] => [...past, value].slice(-KEPT_STEPS);

/** One undoable step. An edit that changes nothing leaves no step. During a gesture it belongs to the gesture. */
export function edit<T>(history: History<T>, next: T): History<T> {
  if (isSame(history.present, next)) return history;
  if (history.before !== null) return { ...history, present: next };
  return step(history, next);
}

/** One undoable step, whatever it is. */
export const step = <T>({ past, present }: History<T>, next: T): History<T> => ({
  past: pushed(past, present),
  present: next,
  future: [],
  before: null,
});

/** What follows from the present by itself takes its place and leaves no step. Not during a gesture. */
export const amend = <T>(history: History<T>, next: T): History<T> =>
  history.before === null ? { ...history, present: next } : history;

/** Opens a gesture; one already running goes on. */
export const beginGesture = <T>(history: History<T>): History<T> =>
  history.before === null ? { ...history, before: history.present } : history;

/** Ends the gesture as one step, or as none when it came back to where it began. */
export function completeGesture<T>(history: History<T>): History<T> {
  const { before, present, past } = history;
  if (before === null) return history;
  if (isSame(before, present)) return { ...history, present: before, before: null };
  return { past: pushed(past, before), present, future: [], before: null };
}

/** Drops the gesture: the present is again the value it began with, past and future untouched. */
export const cancelGesture = <T>(history: History<T>): History<T> =>
  history.before === null ? history : { ...history, present: history.before, before: null };

export const canUndo = <T>(history: History<T>): boolean =>
  history.before === null && history.past.length > 0;
export const canRedo = <T>(history: History<T>): boolean =>
  history.before === null && history.future.length > 0;

export function undo<T>(history: History<T>): History<T> {
  if (!canUndo(history)) return history;
  const { past, present, future } = history;
  return {
    past: past.slice(0, -1),
    present: past[past.length - 1]!,
    future: [present, ...future],
    before: null,
  };
}

export function redo<T>(history: History<T>): History<T> {
  if (!canRedo(history)) return history;
  const { past, present, future } = history;
  return { past: [...past, present], present: future[0]!, future: future.slice(1), before: null };
}
