import { stlChunks } from '../io/stl/write.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { ArchiveEntry } from './archive.ts';
import { partFileNames } from './part-files.ts';

/** A finished part to be written. */
export interface NamedPart {
  name: string;
  part: Part;
}

/** Binary STL files of finished parts, each made as its chunks are asked for. `originMm` is added back on. */
export function partFiles(figure: string, parts: readonly NamedPart[], originMm: Vec3): ArchiveEntry[] {
  const names = partFileNames(
    figure,
    parts.map(({ name }) => name),
    'stl',
  );
  return parts.map(({ part }, i) => ({
    name: names[i],
    chunks: {
      [Symbol.iterator]: () =>
        stlChunks(
          part,
          part.patches.map(({ triangles }) => triangles),
          originMm,
        ),
    },
  }));
}
