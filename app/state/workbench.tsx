import {
  createContext,
  type ReactNode,
  startTransition,
  use,
  useLayoutEffect,
  useReducer,
  useRef,
} from 'react';
import type { Seam } from '../../src/index.ts';
import type { Actions } from './actions.ts';
import { type BenchState, jobOf } from './bench-state.ts';
import { isCalm } from './calmly.ts';
import { findSeam } from './job-edits.ts';
import type { BenchStore } from './ports.ts';
import { useKept } from './use-kept.ts';

/** The store and what can be done with it, handed to every component below. */
export interface Workbench {
  store: BenchStore;
  actions: Actions;
}

const WorkbenchContext = createContext<Workbench | null>(null);

export const WorkbenchProvider = ({ value, children }: { value: Workbench; children: ReactNode }) => (
  <WorkbenchContext value={value}>{children}</WorkbenchContext>
);

function useWorkbench(): Workbench {
  const workbench = use(WorkbenchContext);
  if (workbench === null) throw new Error('a component of the bench stands outside its WorkbenchProvider');
  return workbench;
}

/**
 * A part of the state; the component renders again when that part is another value, by `isSame` if given: while a hand
 * drags, it is the panels that need not change which cost the most. What a hand does is
 * drawn at once; what the engine says (see `calmly`) is drawn in slices, so that a new figure's parts,
 * panels and drawings never hold the page. The store's stock hook draws everything at once, always.
 */
export function useBench<T>(
  select: (state: BenchState) => T,
  isSame: (a: T, b: T) => boolean = Object.is,
): T {
  const { store } = useWorkbench();
  const value = useKept(select(store.getState()), isSame);
  const latest = useRef({ select, isSame, value });
  const [, renderAgain] = useReducer((n: number) => n + 1, 0);
  useLayoutEffect(() => {
    latest.current = { select, isSame, value };
  });
  useLayoutEffect(() => {
    const check = () => {
      const { select: chosen, isSame: same, value: shown } = latest.current;
      if (same(chosen(store.getState()), shown)) return;
      if (isCalm()) startTransition(renderAgain);
      else renderAgain();
    };
    check(); // the state may have changed between rendering and now
    return store.subscribe(check);
  }, [store]);
  return value;
}

/**
 * Does `apply` with a part of the state, now and whenever that is another value, by `isSame` if given, and renders
 * nothing: so the scene follows a hand. All three functions are the same ones for as long as they do the same.
 */
export function useWatch<T>(
  select: (state: BenchState) => T,
  apply: (value: T) => void,
  isSame: (a: T, b: T) => boolean = Object.is,
): void {
  const { store } = useWorkbench();
  useLayoutEffect(() => {
    let seen = select(store.getState());
    apply(seen);
    return store.subscribe((state) => {
      const now = select(state);
      if (isSame(now, seen)) return;
      seen = now;
      apply(now);
    });
  }, [store, select, apply, isSame]);
}

/** Part of a seam of the job, or null where it is no more. */
export const useSeam = <T,>(
  seamId: string | null,
  pick: (seam: Seam) => T,
  isSame: (a: T | null, b: T | null) => boolean = Object.is,
): T | null =>
  useBench((s) => {
    const seam = findSeam(jobOf(s), seamId);
    return seam && pick(seam);
  }, isSame);

export const useActions = (): Actions => useWorkbench().actions;
export const useBenchStore = (): BenchStore => useWorkbench().store;
