import { LIMITS } from '../model/limits.ts';
import type { TaperedSection } from './tapered.ts';

/** What sections have in common that are so wide and so high about their axis. */
export const WIDE_AND_HIGH = {
  fields: [
    { name: 'widthMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'x' },
    { name: 'heightMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'y' },
  ],
  spins: true,
  turnsDeg: [0, 90, 180, 270],
  narrowMm: ({ widthMm, heightMm }) => Math.min(widthMm, heightMm),
  widened: ({ widthMm, heightMm }, mm) => ({
    widthMm: Math.max(widthMm, mm),
    heightMm: Math.max(heightMm, mm),
  }),
} satisfies Partial<TaperedSection>;
