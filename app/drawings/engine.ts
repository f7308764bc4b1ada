/** What the drawings take from the engine. */
export {
  type FaceResult,
  LIMITS,
  nearestOnLoops,
  type PegResult,
  type PegSection,
  type PlaneFrame,
  type ResolvedPeg,
  type SeamResult,
  toFrame,
  type Vec2,
  type Vec3,
} from '../../src/index.ts';
