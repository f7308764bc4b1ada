import { useSeam } from '../state/workbench.tsx';
import { words } from '../words.ts';

/** What a seam is called: the names of its two parts. Null where it is no more. */
export const useSeamTitle = (seamId: string | null): string | null =>
  useSeam(seamId, ({ names }) => words.seamTitle(names.front, names.back));
