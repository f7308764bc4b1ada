/** What is wrong with a person's own outline, or with the drawing it comes from. Lengths mm. */
export type OutlineFault =
  | { is: 'not-svg' }
  /** The path's data goes wrong at its `at`-th sign, from 1. */
  | { is: 'path'; at: number }
  | { is: 'none' }
  | { is: 'several'; count: number }
  | { is: 'too-few' | 'too-many'; corners: number; limit: number }
  | { is: 'too-small' | 'too-far'; mm: number; limit: number }
  | { is: 'crossed' };
