import type { ToGet } from '../../src/index.ts';
import { words } from '../words.ts';

/** What is to be got, in words. */
export const toGetText = ({ kind, count, sizes, isPrintable }: Omit<ToGet, 'joints'>): string =>
  words.toGet(kind, count, Object.values(sizes), isPrintable);
