import type { RawMesh } from '../raw-mesh.ts';

/**
 * A new decoder. Each file has one of its own: damaged data can leave it unusable, and its memory goes with it.
 * In Node it finds its code beside itself, in a browser where the build has put it.
 */
async function createDecoder() {
  const { default: create } = await import('draco3dgltf/draco_decoder_gltf_nodejs.js');
  const code = new URL('../../node_modules/draco3dgltf/draco_decoder_gltf.wasm', import.meta.url);
  return create(code.protocol === 'file:' ? {} : { locateFile: () => code.href });
}

/**
 * Decodes a Draco mesh.
 * @param positionId the unique id of the attribute with places.
 * @returns null for bytes that are no sound Draco mesh of places in space.
 */
export async function decodeDraco(bytes: Uint8Array, positionId: number): Promise<RawMesh | null> {
  const draco = await createDecoder();
  try {
    const decoder = new draco.Decoder();
    const buffer = new draco.DecoderBuffer();
    buffer.Init(new Int8Array(bytes.buffer, bytes.byteOffset, bytes.byteLength), bytes.byteLength);
    if (decoder.GetEncodedGeometryType(buffer) !== draco.TRIANGULAR_MESH) return null;
    const mesh = new draco.Mesh();
    if (!decoder.DecodeBufferToMesh(buffer, mesh).ok()) return null;
    const attribute = decoder.GetAttributeByUniqueId(mesh, positionId);
    if (attribute.num_components() !== 3) return null;
    const positionCount = mesh.num_points() * 3;
    const cornerCount = mesh.num_faces() * 3;
    const to = draco._malloc(Math.max(positionCount, cornerCount) * 4);
    if (to === 0) return null;
    const first = to / 4;
    if (!decoder.GetAttributeDataArrayForAllPoints(mesh, attribute, draco.DT_FLOAT32, positionCount * 4, to))
      return null;
    // The heap is read anew each time: it may have moved as it grew.
    const positions = draco.HEAPF32.slice(first, first + positionCount);
    if (!decoder.GetTrianglesUInt32Array(mesh, cornerCount * 4, to)) return null;
    return { positions, triangles: draco.HEAPU32.slice(first, first + cornerCount) };
  } catch {
    return null; // the decoder traps on some damage
  }
}
