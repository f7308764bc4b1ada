import type { Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { STL_COUNT_AT, STL_FACET_BYTES, STL_HEADER_BYTES } from './stl-read.ts';
import { IO_TUNING } from './tuning.ts';

/** Never begins with "solid", which some programs take for a text file. */
const HEADER = 'pegwright: binary STL, millimetres';

/**
 * A binary STL of the mesh in the file's coordinates: `originMm` is added to every vertex and the sum
 * rounded to single precision. Facet normals follow the corners' turn; a triangle without area has none.
 */
export function writeStlBinary(mesh: Mesh, originMm: Vec3): Uint8Array {
  const count = mesh.triangles.length / 3;
  const bytes = new Uint8Array(STL_HEADER_BYTES + count * STL_FACET_BYTES);
  bytes.set(header(count));
  fillFacets(new DataView(bytes.buffer, STL_HEADER_BYTES), mesh, 0, count, originMm);
  return bytes;
}

/** The same file in chunks of about 2 MB, each the receiver's to keep. */
export function* stlChunks(mesh: Mesh, originMm: Vec3): Generator<Uint8Array> {
  const count = mesh.triangles.length / 3;
  yield header(count);
  for (let from = 0; from < count; from += IO_TUNING.facetsPerChunk) {
    const to = Math.min(count, from + IO_TUNING.facetsPerChunk);
    const chunk = new Uint8Array((to - from) * STL_FACET_BYTES);
    fillFacets(new DataView(chunk.buffer), mesh, from, to, originMm);
    yield chunk;
  }
}

function header(count: number): Uint8Array {
  const bytes = new Uint8Array(STL_HEADER_BYTES);
  bytes.set(new TextEncoder().encode(HEADER));
  new DataView(bytes.buffer).setUint32(STL_COUNT_AT, count, true);
  return bytes;
}

/** Writes the triangles `from` up to `to` at the start of `view`. */
function fillFacets(view: DataView, mesh: Mesh, from: number, to: number, originMm: Vec3): void {
  const { positions, triangles } = mesh;
  // Adding −0 leaves every number as it is, a negative zero too; adding 0 would turn that one.
  const [ox, oy, oz] = originMm.map((o) => (o === 0 ? -0 : o));
  const corners = new Float32Array(9);
  for (let i = from * 3, at = 0; i < to * 3; i += 3, at += STL_FACET_BYTES) {
    for (let k = 0; k < 3; k++) {
      const v = triangles[i + k] * 3;
      corners[k * 3] = positions[v] + ox;
      corners[k * 3 + 1] = positions[v + 1] + oy;
      corners[k * 3 + 2] = positions[v + 2] + oz;
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
