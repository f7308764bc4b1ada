import { strToU8, Zip, ZipPassThrough, type Zippable, zipSync } from 'fflate';
import type { Polyhedron } from './simple-solids.ts';

/** Writers of 3MF, glTF and GLB, written apart from the engine, for tests of its readers. */

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
export const PRODUCTION = 'http://schemas.microsoft.com/3dmanufacturing/production/2015/06';
const START_PART = 'http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel';

const CONTENT_TYPES =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">' +
  '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>' +
  '<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>';

export const relations = (target: string): string =>
  '<?xml version="1.0" encoding="UTF-8"?>\n<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">' +
  `<Relationship Target="${target}" Id="rel0" Type="${START_PART}"/></Relationships>`;

export const meshXml = ({ vertices, faces }: Polyhedron): string =>
  '<mesh><vertices>' +
  vertices.map(([x, y, z]) => `<vertex x="${x}" y="${y}" z="${z}"/>`).join('\n') +
  '</vertices><triangles>' +
  faces
    .flatMap((face) => face.slice(2).map((corner, k) => [face[0], face[k + 1], corner]))
    .map(([a, b, c]) => `<triangle v1="${a}" v2="${b}" v3="${c}"/>`)
    .join('\n') +
  '</triangles></mesh>';

export const modelXml = (resources: string, build: string, attributes = 'unit="millimeter"'): string =>
  `<?xml version="1.0" encoding="UTF-8"?>\n<model ${attributes} xmlns="${CORE}" xmlns:p="${PRODUCTION}">` +
  `<resources>${resources}</resources><build>${build}</build></model>`;

/** The files of a package whose model is `model`; `more` adds or replaces some. */
export const packageFiles = (model: string | Uint8Array, more: Record<string, string | Uint8Array> = {}) => ({
  '[Content_Types].xml': CONTENT_TYPES,
  '_rels/.rels': relations('/3D/3dmodel.model'),
  '3D/3dmodel.model': model,
  ...more,
});

export function zipped(files: Record<string, string | Uint8Array>, level: 0 | 6 = 6): Uint8Array {
  const entries: Zippable = {};
  for (const [name, file] of Object.entries(files)) {
    entries[name] = [typeof file === 'string' ? strToU8(file) : file, { level }];
  }
  return zipSync(entries);
}

/** An archive of files in their order, of which several may have one name. */
export function zippedInOrder(
  files: readonly (readonly [name: string, file: string | Uint8Array])[],
): Uint8Array {
  const pieces: Uint8Array[] = [];
  const zip = new Zip((_, piece) => pieces.push(piece));
  for (const [name, file] of files) {
    const entry = new ZipPassThrough(name);
    zip.add(entry);
    entry.push(typeof file === 'string' ? strToU8(file) : file, true);
  }
  zip.end();
  return Uint8Array.from(pieces.flatMap((piece) => [...piece]));
}

export const threeMf = (solid: Polyhedron, attributes?: string): Uint8Array =>
  zipped(
    packageFiles(
      modelXml(`<object id="1" name="solid">${meshXml(solid)}</object>`, '<item objectid="1"/>', attributes),
    ),
  );

/** JSON of a glTF, free in what it says. */
export type GltfDraft = Record<string, unknown> & { buffers: { byteLength: number; uri?: string }[] };

/** A solid as glTF has it: metres, +Y up; indices of 32 bits behind the places. */
export function gltfDraft({ vertices, faces }: Polyhedron): { json: GltfDraft; bin: Uint8Array } {
  const corners = faces.flatMap((face) =>
    face.slice(2).flatMap((corner, k) => [face[0], face[k + 1], corner]),
  );
  const places = vertices.flatMap(([x, y, z]) => [x / 1000, z / 1000, -y / 1000]);
  const bin = new Uint8Array(places.length * 4 + corners.length * 4);
  new Float32Array(bin.buffer, 0, places.length).set(places);
  new Uint32Array(bin.buffer, places.length * 4).set(corners);
  const json: GltfDraft = {
    asset: { version: '2.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0, name: 'solid' }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    accessors: [
      { bufferView: 0, componentType: 5126, type: 'VEC3', count: vertices.length },
      { bufferView: 1, componentType: 5125, type: 'SCALAR', count: corners.length },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: places.length * 4 },
      { buffer: 0, byteOffset: places.length * 4, byteLength: corners.length * 4 },
    ],
    buffers: [{ byteLength: bin.length }],
  };
  return { json, bin };
}

/** A glTF text with its buffer inside. */
export function gltfText({ json, bin }: { json: GltfDraft; bin: Uint8Array }): string {
  const uri = `data:application/octet-stream;base64,${Buffer.from(bin).toString('base64')}`;
  return JSON.stringify({ ...json, buffers: [{ ...json.buffers[0], uri }] });
}

export function glb({ json, bin }: { json: GltfDraft; bin: Uint8Array }): Uint8Array {
  const text = Buffer.from(JSON.stringify(json));
  const chunks: [type: number, bytes: Uint8Array, fill: number][] = [
    [0x4e4f534a, text, 32],
    [0x004e4942, bin, 0],
  ];
  const padded = (length: number) => Math.ceil(length / 4) * 4;
  const file = new Uint8Array(12 + chunks.reduce((n, [, bytes]) => n + 8 + padded(bytes.length), 0));
  const view = new DataView(file.buffer);
  [0x46546c67, 2, file.length].forEach((word, i) => {
    view.setUint32(i * 4, word, true);
  });
  let at = 12;
  for (const [type, bytes, fill] of chunks) {
    view.setUint32(at, padded(bytes.length), true);
    view.setUint32(at + 4, type, true);
    file.fill(fill, at + 8, at + 8 + padded(bytes.length));
    file.set(bytes, at + 8);
    at += 8 + padded(bytes.length);
  }
  return file;
}

/** The three formats' bytes for one solid, by name. */
export const everyScene = (solid: Polyhedron): [name: string, bytes: Uint8Array][] => [
  ['solid.3mf', threeMf(solid)],
  ['solid.gltf', strToU8(gltfText(gltfDraft(solid)))],
  ['solid.glb', glb(gltfDraft(solid))],
];
