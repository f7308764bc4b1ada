/** What is used of the decoder's bindings, which bring no types. Pointers and objects belong to its own memory. */
declare module 'draco3dgltf/draco_decoder_gltf_nodejs.js' {
  interface DracoMesh {
    num_faces(): number;
    num_points(): number;
  }

  interface DracoAttribute {
    num_components(): number;
  }

  interface DracoBuffer {
    Init(bytes: Int8Array, length: number): void;
  }

  interface DracoDecoder {
    GetEncodedGeometryType(buffer: DracoBuffer): number;
    DecodeBufferToMesh(buffer: DracoBuffer, mesh: DracoMesh): { ok(): boolean };
    GetAttributeByUniqueId(mesh: DracoMesh, id: number): DracoAttribute;
    GetAttributeDataArrayForAllPoints(
      mesh: DracoMesh,
      attribute: DracoAttribute,
      type: number,
      bytes: number,
      to: number,
    ): boolean;
    GetTrianglesUInt32Array(mesh: DracoMesh, bytes: number, to: number): boolean;
  }

  interface DracoModule {
    HEAPF32: Float32Array;
    HEAPU32: Uint32Array;
    TRIANGULAR_MESH: number;
    DT_FLOAT32: number;
    Decoder: new () => DracoDecoder;
    DecoderBuffer: new () => DracoBuffer;
    Mesh: new () => DracoMesh;
    _malloc(bytes: number): number;
  }

  export default function createModule(options: {
    locateFile?: (name: string) => string;
  }): Promise<DracoModule>;
}
