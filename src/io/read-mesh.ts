import { PegwrightError } from '../errors.ts';
import type { Quaternion } from '../math/quaternion.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { MM_PER_UNIT, type Unit } from '../model/units.ts';
import type { OnProgress } from '../progress.ts';
import { joinMeshes, type MeshFile } from './build/join-meshes.ts';
import { recentre } from './build/recentre.ts';
import { openPieces, type PieceReader } from './bytes/pieces.ts';
import type { ByteSource } from './bytes/source.ts';
import { looksLike } from './foreign.ts';
import { FORMATS, type Format, type FormatId } from './formats.ts';
import type { RawBody, RawMesh } from './raw-mesh.ts';

export interface ReadOptions {
  /** Unit of the numbers in the file; left out: what the file declares, mm where it declares none. */
  unit?: Unit | undefined;
  /** Factor on every coordinate, besides the unit. */
  scale: number;
  /** Unit quaternion that turns the figure about the file's origin, after unit and scale. */
  turn?: Quaternion | undefined;
  onProgress?: OnProgress;
}

export interface ReadMesh {
  /** Name of the file; of several, the first with a mesh. */
  file: string;
  /** Of several files, the first mesh's. */
  format: FormatId;
  /** As the file has it; mm. */
  mesh: Mesh;
  /** True where no two vertices are at one place and each is used, in the order of first use. */
  isWelded: boolean;
  /** Runs of the mesh's triangles, together all of them; absent for one body without a name. */
  bodies?: readonly RawBody[];
  /** Unit that the file declares, null where it declares none or several files differ. */
  declaredUnit: Unit | null;
  /** Unit that the numbers were taken in; of several files, the first mesh's. */
  unit: Unit;
  /** Add this to the mesh's coordinates for the file's, mm. */
  originMm: Vec3;
  /** Step between neighbouring places, see `recentre`. */
  stepMm: number;
}

/** `readMeshes` of one file. */
export const readMesh = (source: ByteSource, options: ReadOptions): Promise<ReadMesh> =>
  readMeshes([source], options);

/**
 * Reads meshes in any known format, told by their content and never by their names; gzip'd files are unpacked.
 * Several files make one mesh with a body for each object; files of other kinds beside them (buffers,
 * materials, pictures) are there for the meshes that name them. Nothing else is ever fetched.
 * @throws PegwrightError `file-empty`, `file-unreadable`, `format-unknown`, `file-truncated`, `file-malformed`,
 *   `file-feature-unknown`, `file-beside-missing`, `file-unpacks-too-big`, `file-too-many`, `file-no-triangles`,
 *   `file-too-big`, `out-of-memory` or `coordinates-not-finite`.
 */
export async function readMeshes(sources: readonly ByteSource[], options: ReadOptions): Promise<ReadMesh> {
  const total = Math.max(
    1,
    sources.reduce((n, { byteLength }) => n + byteLength, 0),
  );
  let before = 0;
  const files: (MeshFile & { format: FormatId })[] = [];
  for (const source of sources) {
    const opened = await openPieces(source, (taken) =>
      options.onProgress?.('reading', Math.min(1, (before + taken) / total)),
    );
    try {
      const format = formatOf(source, opened, sources.length > 1);
      if (format !== null) {
        const raw = await readRaw(source.name, format, opened, sources);
        files.push({ format: format.id, file: source.name, raw, unit: options.unit ?? raw.unit ?? 'mm' });
      }
    } finally {
      await opened.close();
    }
    before += source.byteLength;
  }
  if (files.length === 0) throw new PegwrightError('format-unknown', { file: sources[0].name });
  return asOne(files, options);
}

function asOne(files: readonly (MeshFile & { format: FormatId })[], { scale, turn }: ReadOptions): ReadMesh {
  const [{ file, format, unit, raw: first }] = files;
  const declared = files.every(({ raw }) => raw.unit === first.unit) ? first.unit : undefined;
  const facts = { file, format, unit, declaredUnit: declared ?? null };
  const names = files.map(({ file }) => file).join(', ');
  const joined = files.length === 1 ? first : joinMeshes(files);
  const mmPerUnit = files.length === 1 ? MM_PER_UNIT[unit] : 1;
  const { bodies } = joined;
  // Moving keeps places apart; what is rounded anew may fall together.
  const isWelded = joined.isWelded === true && mmPerUnit * scale === 1 && turn === undefined;
  return {
    ...facts,
    ...(bodies && { bodies }),
    isWelded,
    ...recentre(names, joined, mmPerUnit * scale, turn),
  };
}

/** Names of files that only ever lie beside a mesh. */
const BESIDE = /\.(bin|mtl|png|jpe?g|webp|ktx2?|dds|tga|bmp|gif)$/i;

/**
 * The format that a file's content has; null for one that lies beside others.
 * @throws PegwrightError `file-empty` or `format-unknown`.
 */
function formatOf(
  { name: file }: ByteSource,
  { head, byteLength }: PieceReader,
  hasOthers: boolean,
): Format | null {
  if (hasOthers && BESIDE.test(file)) return null;
  if (head.length === 0) throw new PegwrightError('file-empty', { file });
  const format = FORMATS.find((candidate) => candidate.matches(head, byteLength));
  if (format !== undefined) return format;
  const foreign = looksLike(head);
  throw new PegwrightError('format-unknown', foreign === undefined ? { file } : { file, looksLike: foreign });
}

/** A file's mesh, which has triangles; a typed array that could not be had is put in our own words. */
async function readRaw(
  file: string,
  format: Format,
  { byteLength, pieces }: PieceReader,
  sources: readonly ByteSource[],
): Promise<RawMesh> {
  try {
    const beside = sources.filter(({ name }) => name !== file);
    const raw = await format.read({ file, format: format.name, byteLength, pieces, beside });
    if (raw.triangles.length > 0) return raw;
  } catch (cause) {
    if (cause instanceof RangeError) throw new PegwrightError('out-of-memory', { file });
    throw cause;
  }
  throw new PegwrightError('file-no-triangles', { file, format: format.name });
}
