/** Seeds of jobs that failed once, each with a word on what was wrong. */
export const PINNED: readonly (readonly [seed: number, about: string])[] = [];
