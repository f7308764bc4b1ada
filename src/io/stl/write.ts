import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { coordinate, NOTHING_ADDED, type Vertices } from '../../mesh/part/vertices.ts';
import { IO_TUNING } from '../tuning.ts';
import { STL_COUNT_AT, STL_FACET_BYTES, STL_HEADER_BYTES } from './read.ts';

/** Never begins with "solid", which some programs take for a text file. */
const HEADER = 'pegwright: binary STL, millimetres';

/**
 * A binary STL of the mesh in the file's coordinates: `originMm` is added to every vertex and the sum
 * rounded to single precision. Facet normals follow the corners' turn; a triangle without area has none.
 */
export function writeStlBinary({ positions, triangles }: Mesh, originMm: Vec3): Uint8Array {
  const bytes = new Uint8Array(STL_HEADER_BYTES + (triangles.length / 3) * STL_FACET_BYTES);
  let at = 0;
  for (const chunk of stlChunks({ positions, added: NOTHING_ADDED }, [triangles], originMm)) {
    bytes.set(chunk, at);
    at += chunk.length;
  }
  return bytes;
}

/** The same file from runs of triangles, in chunks of at most 2 MB, each the receiver's to keep. */
export function* stlChunks(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  originMm: Vec3,
): Generator<Uint8Array> {
  yield header(runs.reduce((n, { length }) => n + length / 3, 0));
  for (const triangles of runs) {
    const count = triangles.length / 3;
    for (let from = 0; from < count; from += IO_TUNING.facetsPerChunk) {
      const to = Math.min(count, from + IO_TUNING.facetsPerChunk);
      const chunk = new Uint8Array((to - from) * STL_FACET_BYTES);
      fillFacets(new DataView(chunk.buffer), vertices, triangles.subarray(from * 3, to * 3), originMm);
      yield chunk;
    }
  }
}

function header(count: number): Uint8Array {
  const bytes = new Uint8Array(STL_HEADER_BYTES);
  bytes.set(new TextEncoder().encode(HEADER));
  new DataView(bytes.buffer).setUint32(STL_COUNT_AT, count, true);
  return bytes;
}

function fillFacets(view: DataView, vertices: Vertices, triangles: Uint32Array, originMm: Vec3): void {
  // Adding −0 leaves every number as it is, a negative zero too; adding 0 would turn that one.
  const [ox, oy, oz] = originMm.map((o) => (o === 0 ? -0 : o));
  const corners = new Float32Array(9);
  for (let i = 0, at = 0; i < triangles.length; i += 3, at += STL_FACET_BYTES) {
    for (let k = 0; k < 3; k++) {
      const v = triangles[i + k];
      corners[k * 3] = coordinate(vertices, v, 0) + ox;
      corners[k * 3 + 1] = coordinate(vertices, v, 1) + oy;
      corners[k * 3 + 2] = coordinate(vertices, v, 2) + oz;
    }
    setNormal(view, at, corners);
    for (let k = 0; k < 9; k++) view.setFloat32(at + 12 + k * 4, corners[k], true);
  }
}

/** The unit normal of three corners; the view holds zeros where there is none. */
function setNormal(view: DataView, at: number, c: Float32Array): void {
  const ux = c[3] - c[0];
  const uy = c[4] - c[1];
  const uz = c[5] - c[2];
  const vx = c[6] - c[0];
  const vy = c[7] - c[1];
  const vz = c[8] - c[2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  if (length === 0) return;
  view.setFloat32(at, nx / length, true);
  view.setFloat32(at + 4, ny / length, true);
  view.setFloat32(at + 8, nz / length, true);
}
