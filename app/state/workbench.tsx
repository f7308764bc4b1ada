import {
  createContext,
  type ReactNode,
  startTransition,
  use,
  useLayoutEffect,
  useReducer,
  useRef,
} from 'react';
import type { Actions } from './actions.ts';
import type { BenchState } from './bench-state.ts';
import { isCalm } from './calmly.ts';
import type { BenchStore } from './ports.ts';

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
 * A part of the state; the component renders again when that part is another value. What a hand does is
 * drawn at once; what the engine says (see `calmly`) is drawn in slices, so that a new figure's parts,
 * panels and drawings never hold the page. The store's stock hook draws everything at once, always.
 */
export function useBench<T>(select: (state: BenchState) => T): T {
  const { store } = useWorkbench();
  const value = select(store.getState());
  const latest = useRef({ select, value });
  const [, renderAgain] = useReducer((n: number) => n + 1, 0);
  useLayoutEffect(() => {
    latest.current = { select, value };
  });
  useLayoutEffect(() => {
    const check = () => {
      const { select: chosen, value: shown } = latest.current;
      if (Object.is(chosen(store.getState()), shown)) return;
      if (isCalm()) startTransition(renderAgain);
      else renderAgain();
    };
    check(); // the state may have changed between rendering and now
    return store.subscribe(check);
  }, [store]);
  return value;
}

export const useActions = (): Actions => useWorkbench().actions;
export const useBenchStore = (): BenchStore => useWorkbench().store;
