import type { SculptFile } from '../../src/index.ts';

/** The files in what was kept of a sculpt: a list of them or, as it once was, a single one. None where it is neither. */
export function keptFiles(kept: unknown): SculptFile[] {
  const seen = kept as { files?: unknown } | null | undefined;
  const files = Array.isArray(seen?.files) ? seen.files : [seen];
  return files.every(isFile) ? files.map(({ name, blob }) => ({ name, blob })) : [];
}

const isFile = (kept: unknown): kept is SculptFile => {
  const seen = kept as Partial<SculptFile> | null | undefined;
  return seen?.blob instanceof Blob && typeof seen.name === 'string';
};
