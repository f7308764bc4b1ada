import { type ByteSource, memorySource } from '../../src/io/bytes/source.ts';
import type { Polyhedron } from './simple-solids.ts';

/** Writers of every format that can be read, written apart from the engine, for tests of its readers. */

export const utf8 = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A source that hands its bytes out `size` at a time. */
export function dripSource(name: string, bytes: Uint8Array, size: number): ByteSource {
  return {
    name,
    byteLength: bytes.byteLength,
    async *chunks() {
      for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
    },
  };
}

export const asSource = (name: string, file: string | Uint8Array): ByteSource =>
  memorySource(name, typeof file === 'string' ? utf8(file) : file);

export async function gzipped(bytes: Uint8Array): Promise<Uint8Array> {
  const stream = new Blob([bytes as Uint8Array<ArrayBuffer>])
    .stream()
    .pipeThrough(new CompressionStream('gzip'));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

export function binaryStl(triangles: number[][], header = 'test', count = triangles.length): Uint8Array {
  const bytes = new Uint8Array(84 + triangles.length * 50);
  const view = new DataView(bytes.buffer);
  bytes.set(utf8(header));
  view.setUint32(80, count, true);
  triangles.forEach((corners, t) => {
    corners.forEach((value, k) => {
      view.setFloat32(84 + t * 50 + 12 + k * 4, value, true);
    });
  });
  return bytes;
}

/** Nine coordinates for each triangle of the fanned faces. */
export const triangleCorners = ({ vertices, faces }: Polyhedron): number[][] =>
  faces.flatMap((face) =>
    face.slice(2).map((corner, k) => [face[0], face[k + 1], corner].flatMap((v) => vertices[v])),
  );

export const textStl = (solid: Polyhedron): string =>
  [
    'solid test',
    ...triangleCorners(solid).flatMap((c) => [
      ' facet normal 0 0 0',
      '  outer loop',
      ...[0, 3, 6].map((k) => `   vertex ${c[k]} ${c[k + 1]} ${c[k + 2]}`),
      '  endloop',
      ' endfacet',
    ]),
    'endsolid test',
    '',
  ].join('\n');

export const obj = ({ vertices, faces }: Polyhedron): string =>
  [
    '# test',
    ...vertices.map((v) => `v ${v.join(' ')}`),
    ...faces.map((face) => `f ${face.map((v) => v + 1).join(' ')}`),
    '',
  ].join('\n');

export const off = ({ vertices, faces }: Polyhedron): string =>
  [
    'OFF',
    `${vertices.length} ${faces.length} 0`,
    ...vertices.map((v) => v.join(' ')),
    ...faces.map((face) => `${face.length} ${face.join(' ')}`),
    '',
  ].join('\n');

const plyHeader = (format: string, { vertices, faces }: Polyhedron): string =>
  [
    'ply',
    `format ${format} 1.0`,
    'comment test',
    `element vertex ${vertices.length}`,
    'property float x',
    'property float y',
    'property float z',
    `element face ${faces.length}`,
    'property list uchar int vertex_indices',
    'end_header',
    '',
  ].join('\n');

export const textPly = (solid: Polyhedron): string =>
  plyHeader('ascii', solid) +
  solid.vertices.map((v) => `${v.join(' ')}\n`).join('') +
  solid.faces.map((face) => `${face.length} ${face.join(' ')}\n`).join('');

export function binaryPly(solid: Polyhedron, littleEndian: boolean): Uint8Array {
  const header = utf8(plyHeader(littleEndian ? 'binary_little_endian' : 'binary_big_endian', solid));
  const { vertices, faces } = solid;
  const size = vertices.length * 12 + faces.reduce((n, face) => n + 1 + face.length * 4, 0);
  const bytes = new Uint8Array(header.length + size);
  bytes.set(header);
  const view = new DataView(bytes.buffer);
  let at = header.length;
  for (const v of vertices.flat()) {
    view.setFloat32(at, v, littleEndian);
    at += 4;
  }
  for (const face of faces) {
    view.setUint8(at++, face.length);
    for (const v of face) {
      view.setInt32(at, v, littleEndian);
      at += 4;
    }
  }
  return bytes;
}

/** Every format's bytes for one solid, by name. */
export const everyFormat = (solid: Polyhedron): [name: string, bytes: Uint8Array][] => [
  ['binary.stl', binaryStl(triangleCorners(solid))],
  ['text.stl', utf8(textStl(solid))],
  ['solid.obj', utf8(obj(solid))],
  ['text.ply', utf8(textPly(solid))],
  ['little.ply', binaryPly(solid, true)],
  ['big.ply', binaryPly(solid, false)],
  ['solid.off', utf8(off(solid))],
];
