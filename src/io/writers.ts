import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import { stlChunks } from './stl/write.ts';

/** A finished part to be written. */
export interface NamedPart {
  name: string;
  part: Part;
}

/** One way finished parts can be written down. */
export interface PartFormat {
  /** How it is asked for. */
  id: string;
  /** Of its files' names, without the point. */
  ending: string;
  mediaType: string;
  /** What a file holds: one part, or all of them in their places. */
  scope: 'part' | 'assembly';
  /**
   * The bytes of one file in chunks, each the receiver's to keep; made anew each time. `originMm` is added to every
   * vertex. Gets one part where that is the scope, and may get one where it is not.
   */
  write(parts: readonly NamedPart[], originMm: Vec3): Iterable<Uint8Array>;
}

const runsOf = ({ patches }: Part): Uint32Array[] => patches.map(({ triangles }) => triangles);

/** Every format that parts can be written in; the first is the one where none is asked for. */
export const PART_FORMATS: readonly [PartFormat, ...PartFormat[]] = [
  {
    id: 'stl',
    ending: 'stl',
    mediaType: 'model/stl',
    scope: 'part',
    write: ([{ part }], originMm) => stlChunks(part, runsOf(part), originMm),
  },
];
