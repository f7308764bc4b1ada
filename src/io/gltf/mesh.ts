import { type Feed, malformed } from '../bytes/feed.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';
import { readAccessor } from './accessor.ts';
import type { GltfBuffers } from './buffers.ts';
import { decodeDraco } from './draco.ts';
import type { GltfJson, GltfObject } from './json.ts';

/** Primitive modes that have triangles (glTF 2.0, §3.7.2.1). */
const TRIANGLES = 4;
const STRIP = 5;
const FAN = 6;

/** All primitives of a mesh together, in its own coordinates. Points and lines are passed over, morph targets at rest. */
export async function readGltfMesh(
  feed: Feed,
  json: GltfJson,
  buffers: GltfBuffers,
  index: number,
): Promise<RawMesh> {
  const parts: RawMesh[] = [];
  let triangleCount = 0;
  for (const primitive of json.objects(json.entry('meshes', index), 'primitives')) {
    const part = await readPrimitive(feed, json, buffers, primitive);
    if (part === null) continue;
    parts.push(part);
    triangleCount += part.triangles.length / 3;
    checkTriangleCount(feed, triangleCount);
  }
  return parts.length === 1 ? parts[0] : together(parts);
}

async function readPrimitive(
  feed: Feed,
  json: GltfJson,
  buffers: GltfBuffers,
  primitive: GltfObject,
): Promise<RawMesh | null> {
  const mode = json.whole(primitive, 'mode', TRIANGLES);
  if (mode < TRIANGLES || mode > FAN) return null;
  const packed = json.extension(primitive, 'KHR_draco_mesh_compression');
  if (packed !== null) {
    const mesh = await readDraco(json, buffers, packed);
    if (mesh === null) throw malformed(feed, { is: 'draco-damaged' });
    return { ...mesh, triangles: trianglesOf(feed, mesh.triangles, TRIANGLES, mesh.positions.length / 3) };
  }
  const attributes = json.object(primitive, 'attributes') ?? {};
  const place = json.wholeOrNull(attributes, 'POSITION');
  if (place === null) return null;
  const positions = await readAccessor(feed, json, buffers, place, 'VEC3');
  const indices = json.wholeOrNull(primitive, 'indices');
  const corners =
    indices === null
      ? Float64Array.from({ length: positions.length / 3 }, (_, i) => i)
      : await readAccessor(feed, json, buffers, indices, 'SCALAR');
  return { positions, triangles: trianglesOf(feed, corners, mode, positions.length / 3) };
}

async function readDraco(json: GltfJson, buffers: GltfBuffers, packed: GltfObject): Promise<RawMesh | null> {
  const { bytes } = await buffers.view(json.whole(packed, 'bufferView'));
  return decodeDraco(bytes, json.whole(json.object(packed, 'attributes') ?? {}, 'POSITION'));
}

/** Corners as triangles of their own, in the turn that glTF 2.0, §3.7.2.1, gives strips and fans. */
function trianglesOf(feed: Feed, corners: ArrayLike<number>, mode: number, vertexCount: number): Uint32Array {
  for (let i = 0; i < corners.length; i++) {
    if (!(corners[i] < vertexCount)) throw malformed(feed, { is: 'vertex-missing', vertex: corners[i] });
  }
  if (mode === TRIANGLES) {
    if (corners.length % 3 !== 0) throw malformed(feed, { is: 'corners-not-threes' });
    return Uint32Array.from(corners);
  }
  const count = Math.max(0, corners.length - 2);
  const triangles = new Uint32Array(count * 3);
  for (let i = 0; i < count; i++) {
    const [b, c] = mode === STRIP ? [i + 1 + (i % 2), i + 2 - (i % 2)] : [i + 2, 0];
    triangles[i * 3] = corners[mode === STRIP ? i : i + 1];
    triangles[i * 3 + 1] = corners[b];
    triangles[i * 3 + 2] = corners[c];
  }
  return triangles;
}

function together(parts: readonly RawMesh[]): RawMesh {
  const positions = new Float64Array(parts.reduce((n, part) => n + part.positions.length, 0));
  const triangles = new Uint32Array(parts.reduce((n, part) => n + part.triangles.length, 0));
  let number = 0;
  let corner = 0;
  for (const part of parts) {
    const firstVertex = number / 3;
    positions.set(part.positions, number);
    for (let i = 0; i < part.triangles.length; i++) triangles[corner++] = part.triangles[i] + firstVertex;
    number += part.positions.length;
  }
  return { positions, triangles };
}
