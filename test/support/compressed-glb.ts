import { Document, NodeIO } from '@gltf-transform/core';
import {
  EXTMeshoptCompression,
  KHRDracoMeshCompression,
  KHRMeshQuantization,
} from '@gltf-transform/extensions';
import draco from 'draco3dgltf';
import { MeshoptEncoder } from 'meshoptimizer/encoder';
import type { Mesh } from '../../src/mesh/mesh.ts';

/** GLB files written by a library of glTF's own world, for tests of our reader. */

export type Packing = 'plain' | 'quantised' | 'meshopt' | 'meshopt-filter' | 'draco';

/** The mesh's numbers as they are, under a node of that scale and place. */
export async function libraryGlb(mesh: Mesh, packing: Packing, scale = 1): Promise<Uint8Array> {
  const document = new Document();
  const buffer = document.createBuffer();
  const places =
    packing === 'quantised'
      ? Int16Array.from(mesh.positions, (v) => Math.round(v * 256))
      : mesh.positions.slice();
  const position = document.createAccessor().setType('VEC3').setArray(places).setBuffer(buffer);
  const indices = document
    .createAccessor()
    .setType('SCALAR')
    .setArray(mesh.triangles.slice())
    .setBuffer(buffer);
  const primitive = document.createPrimitive().setAttribute('POSITION', position).setIndices(indices);
  const factor = packing === 'quantised' ? scale / 256 : scale;
  const node = document.createNode('figure').setMesh(document.createMesh('mesh').addPrimitive(primitive));
  document.createScene().addChild(node.setScale([factor, factor, factor]));
  const io = new NodeIO().registerExtensions([
    EXTMeshoptCompression,
    KHRDracoMeshCompression,
    KHRMeshQuantization,
  ]);
  if (packing === 'quantised') document.createExtension(KHRMeshQuantization).setRequired(true);
  if (packing.startsWith('meshopt')) {
    await MeshoptEncoder.ready;
    io.registerDependencies({ 'meshopt.encoder': MeshoptEncoder });
    const { FILTER, QUANTIZE } = EXTMeshoptCompression.EncoderMethod;
    document
      .createExtension(EXTMeshoptCompression)
      .setRequired(true)
      .setEncoderOptions({ method: packing === 'meshopt' ? QUANTIZE : FILTER });
  }
  if (packing === 'draco') {
    io.registerDependencies({ 'draco3d.encoder': await draco.createEncoderModule({}) });
    document
      .createExtension(KHRDracoMeshCompression)
      .setRequired(true)
      .setEncoderOptions({
        method: KHRDracoMeshCompression.EncoderMethod.EDGEBREAKER,
        quantizationBits: { POSITION: 20 },
      });
  }
  return io.writeBinary(document);
}
