import { useEffect } from 'react';
import type { Actions } from '../state/actions.ts';
import { isHeld } from '../state/bench-state.ts';
import type { BenchStore } from '../state/ports.ts';
import { isTypedInto } from './is-typed-into.ts';

/** True where a field or an open list has its own use for Escape. */
const isTakenElsewhere = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && (isTypedInto(target) || target.closest('[role="listbox"]') !== null);

/** The page's own keys: undo and redo, fit, delete, escape. */
export function useShortcuts(store: BenchStore, actions: Actions): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented) return;
      if (event.target instanceof HTMLElement && isTypedInto(event.target)) return;
      const key = event.key.toLowerCase();
      if (event.ctrlKey || event.metaKey) {
        if (key === 'z') (event.shiftKey ? actions.redo : actions.undo)();
        else if (key === 'y') actions.redo();
        else return;
        event.preventDefault();
        return;
      }
      const { sitting } = store.getState();
      if (sitting.drawing !== null) {
        if (key === 'enter') actions.line.finish();
        else if (key === 'backspace' || key === 'delete') actions.line.takeBack();
        else return;
        event.preventDefault();
        return;
      }
      if (key === 'f' && !event.altKey) actions.fit();
      else if (key === 'delete' && sitting.tab === 'peg' && sitting.jointId !== null)
        actions.removeJoint(sitting.jointId);
    };
    // Before anything else hears it, as fields keep their keys to themselves. What is being dragged goes first.
    const onEscape = (event: KeyboardEvent) => {
      const state = store.getState();
      const { adding, seeking, drawing, outlining, mirroring } = state.sitting;
      if (event.key !== 'Escape' || isHeld(state)) return;
      if (adding || seeking || drawing || outlining)
        actions.sit({ adding: false, seeking: false, drawing: null, outlining: null });
      // A field or a list within the form has its own use for the key.
      else if (mirroring && !isTakenElsewhere(event.target)) actions.sit({ mirroring: null });
    };
    window.addEventListener('keydown', onKey);
    window.addEventListener('keydown', onEscape, { capture: true });
    return () => {
      window.removeEventListener('keydown', onKey);
      window.removeEventListener('keydown', onEscape, { capture: true });
    };
  }, [store, actions]);
}
