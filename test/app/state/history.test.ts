import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beginGesture,
  cancelGesture,
  canUndo,
  completeGesture,
  edit,
  type History,
  redo,
  startHistory,
  undo,
} from '../../../app/state/history.ts';

const many = <T>(history: History<T>, values: T[]) => values.reduce(edit, history);

describe('history', () => {
  it('gives the first value back after undoing everything', () => {
    const first = { a: 1, list: [1, 2] };
    let history = many(startHistory(first), [
      { a: 2, list: [1, 2] },
      { a: 3, list: [] },
    ]);
    while (canUndo(history)) history = undo(history);
    expect(history.present).toBe(first);
    expect(history.future).toHaveLength(2);
  });

  it('makes one step of a gesture however many moves it has', () => {
    const dragged = completeGesture(many(beginGesture(startHistory(0)), [1, 2, 3, 4]));
    expect(dragged.past).toEqual([0]);
    expect(dragged.present).toBe(4);
    expect(undo(dragged).present).toBe(0);
    expect(redo(undo(dragged)).present).toBe(4);
  });

  it('restores the very value a cancelled gesture began with, and keeps the future', () => {
    const first = { x: 0 };
    const undone = undo(many(startHistory(first), [{ x: 9 }]));
    const cancelled = cancelGesture(many(beginGesture(undone), [{ x: 1 }, { x: 2 }]));
    expect(cancelled.present).toBe(first);
    expect(redo(cancelled).present).toEqual({ x: 9 });
  });

  it('leaves no step for an edit or a gesture that changes nothing', () => {
    const start = startHistory({ x: 1 });
    expect(edit(start, { x: 1 })).toBe(start);
    const back = completeGesture(many(beginGesture(start), [{ x: 2 }, { x: 1 }]));
    expect(back.past).toHaveLength(0);
  });

  it('does not undo in the middle of a gesture', () => {
    const held = many(beginGesture(many(startHistory(0), [1])), [2]);
    expect(undo(held)).toBe(held);
  });

  it('drops the future at a new edit', () => {
    expect(edit(undo(many(startHistory(0), [1])), 5).future).toEqual([]);
  });

  it('returns to the start through any mix of edits, gestures and cancels (seed 11)', () => {
    const act = fc.oneof(
      fc.record({ do: fc.constant('edit' as const), to: fc.integer({ min: 0, max: 5 }) }),
      fc.record({ do: fc.constantFrom('begin', 'complete', 'cancel', 'undo', 'redo') }),
    );
    fc.assert(
      fc.property(fc.array(act, { maxLength: 40 }), (acts) => {
        let history = startHistory(0);
        const steps = { begin: beginGesture, complete: completeGesture, cancel: cancelGesture, undo, redo };
        for (const a of acts)
          history = 'to' in a ? edit(history, a.to) : steps[a.do as keyof typeof steps](history);
        history = completeGesture(history);
        while (canUndo(history)) history = undo(history);
        expect(history.present).toBe(0);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});
