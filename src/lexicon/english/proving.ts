import type { Proving } from '../../progress.ts';

/** What became of having the parts proved. */
export const PROVING: Record<Proving, string> = {
  proved: 'parts proved sound',
  'too-big': 'parts too big for the kernel to prove',
  overlaps: 'parts with overlapping shells cannot be proved',
  'not-loaded': 'parts not proved: the kernel could not be loaded; connect again and reload the page',
  crashed: 'parts not proved: the kernel stopped over them',
  'timed-out': 'parts not proved: it took the kernel too long',
};

/** Of parts with errors: what was proved of them, and no more. */
export const PROVED_ONLY = 'parts proved closed solids';
