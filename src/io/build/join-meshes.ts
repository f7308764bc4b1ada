import { PegwrightError } from '../../errors.ts';
import { LIMITS } from '../../model/limits.ts';
import { MM_PER_UNIT, type Unit } from '../../model/units.ts';
import type { RawBody, RawMesh } from '../raw-mesh.ts';

/** A mesh and the file it came from. */
export interface MeshFile {
  file: string;
  raw: RawMesh;
  /** Unit of the mesh's numbers. */
  unit: Unit;
}

/**
 * Several files' meshes as one in millimetres, file by file. A file without bodies of its own is one, named after it.
 * @throws PegwrightError `file-too-big`
 */
export function joinMeshes(files: readonly MeshFile[]): RawMesh {
  const corners = files.reduce((n, { raw }) => n + raw.triangles.length, 0);
  if (corners / 3 > LIMITS.triangles) {
    const names = files.map(({ file }) => file).join(', ');
    throw new PegwrightError('file-too-big', {
      file: names,
      triangles: corners / 3,
      limit: LIMITS.triangles,
    });
  }
  const positions = new Float64Array(files.reduce((n, { raw }) => n + raw.positions.length, 0));
  const triangles = new Uint32Array(corners);
  let number = 0;
  let corner = 0;
  for (const { raw, unit } of files) {
    const firstVertex = number / 3;
    for (let i = 0; i < raw.positions.length; i++) positions[number++] = raw.positions[i] * MM_PER_UNIT[unit];
    for (let i = 0; i < raw.triangles.length; i++) triangles[corner++] = raw.triangles[i] + firstVertex;
  }
  return { positions, triangles, bodies: files.flatMap(bodiesOf) };
}

const bodiesOf = ({ file, raw }: MeshFile): readonly RawBody[] =>
  raw.bodies ?? [{ name: file.replace(/(.)\.[^.]*$/, '$1'), triangleCount: raw.triangles.length / 3 }];
