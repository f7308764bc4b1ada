import { type Mesh, triangleCount, vertexCount } from '../mesh/mesh.ts';

/** Bytes of one face: the corner count and three indices. */
const FACE_BYTES = 13;

/** The mesh as little-endian binary PLY (Turk, 1994): single-precision corners, triangles as lists. */
export function writePly(mesh: Mesh): Uint8Array {
  const header = new TextEncoder().encode(
    [
      'ply',
      'format binary_little_endian 1.0',
      'comment harbour heron, millimetres, Z up',
      `element vertex ${vertexCount(mesh)}`,
      'property float x',
      'property float y',
      'property float z',
      `element face ${triangleCount(mesh)}`,
      'property list uchar int vertex_indices',
      'end_header\n',
    ].join('\n'),
  );
  const vertexBytes = mesh.positions.length * 4;
  const bytes = new Uint8Array(header.length + vertexBytes + triangleCount(mesh) * FACE_BYTES);
  bytes.set(header);
  const view = new DataView(bytes.buffer);
  mesh.positions.forEach((v, i) => {
    view.setFloat32(header.length + i * 4, v, true);
  });
  let at = header.length + vertexBytes;
  for (let i = 0; i < mesh.triangles.length; i += 3) {
    bytes[at] = 3;
    for (let k = 0; k < 3; k++) view.setUint32(at + 1 + k * 4, mesh.triangles[i + k], true);
    at += FACE_BYTES;
  }
  return bytes;
}
