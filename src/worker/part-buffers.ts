import type { Part } from '../mesh/part/part.ts';

/** The buffers a part moves to another thread with: of a part that shares none with another, and adds no vertices. */
export const partBuffers = ({ positions, patches }: Part): Transferable[] => [
  ...new Set(
    [positions, ...patches.map(({ triangles }) => triangles)].map(({ buffer }) => buffer as ArrayBuffer),
  ),
];
