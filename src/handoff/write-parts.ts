import type { NamedPart, PartFormat } from '../io/writers.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { ArchiveEntry } from './archive.ts';
import { fileStem, partFileNames } from './part-files.ts';

/**
 * Files of finished parts in a format, each made as its chunks are asked for: one for each part in their order, or one for
 * all of them, as the format has it. `originMm` is added back on.
 */
export function partFiles(
  { ending, scope, write }: Pick<PartFormat, 'ending' | 'scope' | 'write'>,
  figure: string,
  parts: readonly NamedPart[],
  originMm: Vec3,
): ArchiveEntry[] {
  const fileOf = (name: string, held: readonly NamedPart[]): ArchiveEntry => ({
    name,
    chunks: { [Symbol.iterator]: () => write(held, originMm)[Symbol.iterator]() },
  });
  if (scope === 'assembly') return [fileOf(`${fileStem(figure)}-parts.${ending}`, parts)];
  const names = partFileNames(
    figure,
    parts.map(({ name }) => name),
    ending,
  );
  return parts.map((part, i) => fileOf(names[i], [part]));
}
