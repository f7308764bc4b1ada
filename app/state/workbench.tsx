import { createContext, type ReactNode, use } from 'react';
import { useStore } from 'zustand/react';
import type { Actions } from './actions.ts';
import type { BenchState } from './bench-state.ts';
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

/** A part of the state; the component renders again when that part is another value. */
export const useBench = <T,>(select: (state: BenchState) => T): T => useStore(useWorkbench().store, select);

export const useActions = (): Actions => useWorkbench().actions;
export const useBenchStore = (): BenchStore => useWorkbench().store;
