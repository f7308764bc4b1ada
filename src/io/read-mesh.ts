import { PegwrightError } from '../errors.ts';
import type { Quaternion } from '../math/quaternion.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { MM_PER_UNIT, type Unit } from '../model/units.ts';
import type { OnProgress } from '../progress.ts';
import { looksLike } from './foreign.ts';
import { FORMATS, type FormatId } from './formats.ts';
import { openPieces } from './pieces.ts';
import type { RawBody } from './raw-mesh.ts';
import { recentre } from './recentre.ts';
import type { ByteSource } from './source.ts';

export interface ReadOptions {
  /** Unit of the numbers in the file. */
  unit: Unit;
  /** Factor on every coordinate, besides the unit. */
  scale: number;
  /** Unit quaternion that turns the figure about the file's origin, after unit and scale. */
  turn?: Quaternion | undefined;
  onProgress?: OnProgress;
}

export interface ReadMesh {
  format: FormatId;
  /** As the file has it, vertices not welded; mm. */
  mesh: Mesh;
  /** Add this to the mesh's coordinates for the file's, mm. */
  originMm: Vec3;
  /** Runs of the mesh's triangles, together all of them; absent for one body without a name. */
  bodies?: readonly RawBody[];
}

/**
 * Reads a mesh in any known format, told by its content and never by its name; gzip'd files are unpacked.
 * @throws PegwrightError `file-empty`, `file-unreadable`, `format-unknown`, `file-truncated`, `file-malformed`,
 *   `file-no-triangles`, `file-too-big`, `out-of-memory` or `coordinates-not-finite`.
 */
export async function readMesh(source: ByteSource, options: ReadOptions): Promise<ReadMesh> {
  const file = source.name;
  const { onProgress } = options;
  const opened = await openPieces(source, (taken) =>
    onProgress?.('reading', Math.min(1, taken / Math.max(1, source.byteLength))),
  );
  const { head, byteLength, pieces } = opened;
  if (head.length === 0) throw new PegwrightError('file-empty', { file });
  const format = FORMATS.find((candidate) => candidate.matches(head, byteLength));
  const foreign = looksLike(head);
  if (format === undefined) {
    throw new PegwrightError(
      'format-unknown',
      foreign === undefined ? { file } : { file, looksLike: foreign },
    );
  }
  const raw = await inMemory(file, () => format.read({ file, format: format.label, byteLength, pieces }));
  if (raw.triangles.length === 0) {
    throw new PegwrightError('file-no-triangles', { file, format: format.label });
  }
  const mmPerUnit = MM_PER_UNIT[options.unit] * options.scale;
  const { bodies } = raw;
  return { format: format.id, ...(bodies && { bodies }), ...recentre(file, raw, mmPerUnit, options.turn) };
}

/** Puts a typed array that could not be had in our own words. */
async function inMemory<T>(file: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (cause) {
    if (cause instanceof RangeError) throw new PegwrightError('out-of-memory', { file });
    throw cause;
  }
}
