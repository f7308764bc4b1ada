import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import bunny from 'bunny';
import { describe, expect, it } from 'vitest';
import { type ReadMesh, readMesh, readMeshes } from '../../src/io/read-mesh.ts';
import { boundsOf } from '../../src/mesh/measure.ts';
import { libraryGlb, type Packing } from '../support/compressed-glb.ts';
import { lumpySphere } from '../support/figures.ts';
import { asSource, dripSource } from '../support/mesh-files.ts';
import { type GltfDraft, glb, gltfDraft, gltfText } from '../support/scene-files.ts';
import { box, plainVolume } from '../support/simple-solids.ts';

/** Khronos glTF 2.0, sections as named. */

const cube = box([0, 0, 0], [1000, 2000, 3000]);
const opened = (file: Uint8Array | string) => readMesh(asSource('a.glb', file), { scale: 1 });

function places({ mesh, originMm }: ReadMesh) {
  const { min, max } = boundsOf(mesh);
  return { min: min.map((v, k) => v + originMm[k] + 0), max: max.map((v, k) => v + originMm[k] + 0) };
}

function expectNear(found: number[], wanted: number[], slack: number): void {
  for (const [k, value] of wanted.entries()) expect(Math.abs(found[k] - value)).toBeLessThanOrEqual(slack);
}

/** The cube's glTF with some of its JSON replaced. */
function changed(changes: Record<string, unknown>): { json: GltfDraft; bin: Uint8Array } {
  const { json, bin } = gltfDraft(cube);
  return { json: { ...json, ...changes } as GltfDraft, bin };
}

/** The same with bytes of our own in place of the buffer. */
function packedAs(
  arrays: (Float32Array | Uint16Array | Uint8Array | Int16Array)[],
  json: Record<string, unknown>,
) {
  const parts = arrays.map((a) => new Uint8Array(a.buffer, a.byteOffset, a.byteLength));
  const bin = new Uint8Array(Buffer.concat(parts));
  let at = 0;
  const bufferViews = parts.map((part) => {
    const view = { buffer: 0, byteOffset: at, byteLength: part.length };
    at += part.length;
    return view;
  });
  return glb({
    json: {
      asset: { version: '2.0' },
      bufferViews,
      buffers: [{ byteLength: bin.length }],
      nodes: [{ mesh: 0 }],
      ...json,
    },
    bin,
  });
}

describe('glTF', () => {
  it('is in metres with +Y up (§3.4), and comes in upright', async () => {
    for (const file of [glb(gltfDraft(cube)), gltfText(gltfDraft(cube))]) {
      const result = await opened(file);
      expect(result).toMatchObject({
        unit: 'm',
        declaredUnit: 'm',
        bodies: [{ name: 'solid', triangleCount: 12 }],
      });
      expect(places(result)).toEqual({ min: [0, 0, 0], max: [1000, 2000, 3000] });
      expect(plainVolume(result.mesh)).toBeCloseTo(6e9, -1);
    }
    expect((await opened(glb(gltfDraft(cube)))).format).toBe('glb');
    expect((await opened(gltfText(gltfDraft(cube)))).format).toBe('gltf');
  });

  it('goes by the unit asked for where one is', async () => {
    const result = await readMesh(asSource('a.glb', glb(gltfDraft(cube))), { unit: 'mm', scale: 1 });
    expect(places(result).max).toEqual([1, 2, 3]);
  });

  it('is the same byte by byte', async () => {
    const drip = await readMesh(dripSource('a.glb', glb(gltfDraft(cube)), 1), { scale: 1 });
    expect(places(drip).max).toEqual([1000, 2000, 3000]);
  });

  it('places nodes by their parents, matrices and turns (§3.5)', async () => {
    const half = Math.SQRT1_2;
    const file = glb(
      changed({
        scenes: [{ nodes: [0] }],
        nodes: [
          // +90° about +Y, which is up: what pointed to +X points to −Z, and that is +Y here.
          { rotation: [0, half, 0, half], translation: [10, 0, 0], children: [1, 2] },
          { mesh: 0, scale: [2, 2, 2], name: 'twice' },
          { mesh: 0, matrix: [1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, 5, 0, 1], name: 'above' },
          { mesh: 0, name: 'in no scene' },
        ],
      }),
    );
    const result = await opened(file);
    expect(result.bodies?.map(({ name }) => name)).toEqual(['twice', 'above']);
    const { min, max } = places(result);
    expectNear(min, [6000, 0, 0], 0.005);
    expectNear(max, [10_000, 2000, 8000], 0.005);
    expect(plainVolume(result.mesh) / 1e9).toBeCloseTo(6 * 8 + 6, 4);
  });

  it('keeps the outside of a mirrored node outside (§3.7.4)', async () => {
    const result = await opened(glb(changed({ nodes: [{ mesh: 0, scale: [-1, 1, 1] }] })));
    expect(plainVolume(result.mesh)).toBeCloseTo(6e9, -1);
  });

  const corner = Float32Array.from([0, 0, 0, 1, 0, 0, 0, 0, -1, 1, 0, -1]);
  const four = { componentType: 5126, type: 'VEC3', count: 4 };
  it.each([
    [4, [0, 1, 2, 2, 1, 3], 2],
    [5, [0, 1, 2, 3], 2],
    [6, [0, 1, 3, 2], 2],
  ])('turns the triangles of mode %i as §3.7.2.1 has them', async (mode, corners, count) => {
    const indices = { bufferView: 1, componentType: 5123, type: 'SCALAR', count: corners.length };
    const meshes = [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1, mode }] }];
    const accessors = [{ bufferView: 0, ...four }, indices];
    const { mesh } = await opened(packedAs([corner, Uint16Array.from(corners)], { meshes, accessors }));
    expect(mesh.triangles).toHaveLength(count * 3);
    // All of them look up: the shadow on the bed is walked counter-clockwise.
    for (let i = 0; i < mesh.triangles.length; i += 3) {
      const [a, b, c] = [0, 1, 2].map((k) =>
        mesh.positions.subarray(mesh.triangles[i + k] * 3, mesh.triangles[i + k] * 3 + 3),
      );
      expect((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])).toBeCloseTo(1e6, 0);
    }
  });

  it('reads strided, sparse and normalised accessors (§§3.6.2.2–3.6.2.4) and passes over points and lines', async () => {
    const strided = Float32Array.from([...corner].flatMap((v, i) => (i % 3 === 2 ? [v, 99] : [v])));
    const sparse = { count: 1, indices: { bufferView: 2, componentType: 5121 }, values: { bufferView: 3 } };
    const json = {
      accessors: [
        { bufferView: 0, ...four, sparse },
        { bufferView: 1, componentType: 5121, type: 'SCALAR', count: 6 },
        { bufferView: 4, componentType: 5122, type: 'VEC3', count: 3, normalized: true },
      ],
      meshes: [
        {
          primitives: [
            { attributes: { POSITION: 0 }, indices: 1 },
            { attributes: { POSITION: 0 }, indices: 1, mode: 1 },
            { attributes: { POSITION: 0 }, mode: 0 },
            { attributes: { POSITION: 2 } },
          ],
        },
      ],
    };
    const shorts = Int16Array.from([0, 0, 0, 32767, 0, 0, 0, 0, -32768]);
    const file = packedAs(
      [
        strided,
        Uint8Array.from([0, 1, 2, 2, 1, 3, 0, 0]),
        Uint8Array.from([3, 0, 0, 0]),
        Float32Array.from([5, 0, -1]),
        shorts,
      ],
      json,
    );
    const { json: draft, bin } = splitGlb(file);
    (draft.bufferViews as Record<string, unknown>[])[0].byteStride = 16;
    const result = await opened(glb({ json: draft, bin }));
    expect(result.bodies).toEqual([{ name: '', triangleCount: 3 }]);
    expect(Array.from(result.mesh.positions)).toEqual([
      ...[0, 0, 0, 1000, 0, 0, 0, 1000, 0, 5000, 1000, 0],
      ...[0, 0, 0, 1000, 0, 0, 0, 1000, 0],
    ]);
  });

  it.each([
    ['plain', 0],
    ['quantised', 1 / 512],
    ['meshopt', 1e-3],
    ['meshopt-filter', 1e-3],
    ['draco', 1e-4],
  ] as [Packing, number][])('reads what a library wrote %s', async (packing, slack) => {
    const figure = lumpySphere(5, 20);
    const result = await opened(await libraryGlb(figure, packing, 0.001));
    expect(result.bodies).toEqual([{ name: 'figure', triangleCount: figure.triangles.length / 3 }]);
    const wanted = boundsOf(figure);
    const found = places(result);
    const upright = {
      min: [wanted.min[0], -wanted.max[2], wanted.min[1]],
      max: [wanted.max[0], -wanted.min[2], wanted.max[1]],
    };
    for (const end of ['min', 'max'] as const) {
      expectNear(found[end], upright[end], slack + 1e-5);
    }
    const volume = plainVolume(figure);
    expect(Math.abs(plainVolume(result.mesh) - volume)).toBeLessThanOrEqual(volume * (slack / 5 + 1e-5));
  });

  it('reads the bunny as the makers of Draco pack it, upright and as large as its scan', async () => {
    const bin = new Uint8Array(readFileSync(createRequire(import.meta.url).resolve('draco3dgltf/bunny.drc')));
    const packed = { KHR_draco_mesh_compression: { bufferView: 0, attributes: { POSITION: 0 } } };
    const json = {
      asset: { version: '2.0' },
      nodes: [{ mesh: 0, name: 'bunny' }],
      meshes: [{ primitives: [{ attributes: {}, extensions: packed }] }],
      bufferViews: [{ buffer: 0, byteLength: bin.length }],
      buffers: [{ byteLength: bin.length }],
    };
    const result = await opened(glb({ json, bin }));
    // 69,451 triangles; x −0.09469…0.06101, y 0.03299…0.18732, z −0.06187…0.05880 m, +Y up: the scan as the
    // Stanford 3D Scanning Repository has it (memory).
    expect(result.bodies).toEqual([{ name: 'bunny', triangleCount: 69_451 }]);
    const { min, max } = places(result);
    const size = max.map((v, k) => v - min[k]);
    // The npm package has the same figure, coarser and about 64 times as large.
    const extent = [0, 2, 1].map((k) => {
      const along = bunny.positions.map((p) => p[k]);
      return Math.max(...along) - Math.min(...along);
    });
    for (const [k, v] of extent.entries())
      expect(Math.abs(size[k] / size[2] / (v / extent[2]) - 1)).toBeLessThan(0.02);
    expectNear(min, [-94.69, -58.8, 32.99], 0.01);
    expectNear(size, [155.7, 120.68, 154.33], 0.01);
  });

  it('has copies where a node is instanced (EXT_mesh_gpu_instancing)', async () => {
    const { json, bin } = gltfDraft(cube);
    const moves = Float32Array.from([0, 0, 0, 5, 0, 0]);
    const all = new Uint8Array(Buffer.concat([bin, new Uint8Array(moves.buffer)]));
    (json.bufferViews as unknown[]).push({ buffer: 0, byteOffset: bin.length, byteLength: moves.byteLength });
    (json.accessors as unknown[]).push({ bufferView: 2, componentType: 5126, type: 'VEC3', count: 2 });
    json.nodes = [{ mesh: 0, extensions: { EXT_mesh_gpu_instancing: { attributes: { TRANSLATION: 2 } } } }];
    json.buffers[0].byteLength = all.length;
    const result = await opened(glb({ json, bin: all }));
    expect(result.bodies).toHaveLength(2);
    expect(places(result).max).toEqual([6000, 2000, 3000]);
  });

  it('stands a skinned mesh as its joints do in the pose it was bound in, its own node aside (§3.7.3.3)', async () => {
    const { json, bin } = gltfDraft(cube);
    const inverse = Float32Array.from([1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, 0, -4, 0, 1]);
    const all = new Uint8Array(Buffer.concat([bin, new Uint8Array(inverse.buffer)]));
    (json.bufferViews as unknown[]).push({ buffer: 0, byteOffset: bin.length, byteLength: 64 });
    (json.accessors as unknown[]).push({ bufferView: 2, componentType: 5126, type: 'MAT4', count: 1 });
    json.skins = [{ joints: [1], inverseBindMatrices: 2 }];
    json.nodes = [{ mesh: 0, skin: 0, translation: [77, 77, 77] }, { translation: [0, 4, 0] }];
    json.scenes = [{ nodes: [0, 1] }];
    json.buffers[0].byteLength = all.length;
    expect(places(await opened(glb({ json, bin: all })))).toEqual({
      min: [0, 0, 0],
      max: [1000, 2000, 3000],
    });
  });

  it('takes its buffer from a file handed over with it, by name, and from nowhere else', async () => {
    const { json, bin } = gltfDraft(cube);
    json.buffers[0].uri = 'sub%20folder/fi%C3%BCr.bin';
    const text = asSource('figure.gltf', JSON.stringify(json));
    const result = await readMeshes([asSource('fiür.bin', bin), asSource('a.png', 'x'), text], { scale: 1 });
    expect(result.format).toBe('gltf');
    expect(places(result).max).toEqual([1000, 2000, 3000]);
    await expect(readMesh(text, { scale: 1 })).rejects.toMatchObject({
      code: 'file-beside-missing',
      facts: { file: 'figure.gltf', needs: 'fiür.bin' },
    });
    json.buffers[0].uri = 'https://example.org/fiür.bin?x';
    await expect(opened(JSON.stringify(json))).rejects.toMatchObject({ code: 'file-beside-missing' });
  });
});

function splitGlb(file: Uint8Array): { json: GltfDraft; bin: Uint8Array } {
  const length = new DataView(file.buffer, file.byteOffset).getUint32(12, true);
  const json = JSON.parse(Buffer.from(file.subarray(20, 20 + length)).toString()) as GltfDraft;
  return { json, bin: file.slice(28 + length) };
}

const HUGE = 4_000_000_000;
const meshoptLie = (count: number, byteLength: number) => ({
  bufferViews: [
    {
      buffer: 0,
      byteLength: 96,
      extensions: {
        EXT_meshopt_compression: { buffer: 0, byteLength, byteStride: 12, count, mode: 'ATTRIBUTES' },
      },
    },
    { buffer: 0, byteOffset: 96, byteLength: 144 },
  ],
});
const accessor = (changes: Record<string, unknown>) => [
  { bufferView: 0, componentType: 5126, type: 'VEC3', count: 8, ...changes },
  { bufferView: 1, componentType: 5125, type: 'SCALAR', count: 36 },
];
const chain = (n: number) => Array.from({ length: n }, (_, i) => ({ children: [i + 1] }));

const REFUSED: [what: string, changes: Record<string, unknown>, code: string][] = [
  ['of version 1', { asset: { version: '1.0' } }, 'file-feature-unknown'],
  ['without a version', { asset: {} }, 'file-malformed'],
  ['that needs an extension nobody knows', { extensionsRequired: ['ACME_voxels'] }, 'file-feature-unknown'],
  ['with more vertices than bytes', { accessors: accessor({ count: HUGE }) }, 'file-truncated'],
  [
    'with vertices out of nothing',
    { accessors: accessor({ bufferView: undefined, count: HUGE }) },
    'file-malformed',
  ],
  [
    'with billions of vertices that only a few replace',
    {
      accessors: accessor({
        bufferView: undefined,
        count: HUGE,
        sparse: { count: 1, indices: { bufferView: 1, componentType: 5121 }, values: { bufferView: 0 } },
      }),
    },
    'file-malformed',
  ],
  ['with a vertex number too large', { accessors: accessor({ count: 7 }) }, 'file-malformed'],
  ['with a negative count', { accessors: accessor({ count: -1 }) }, 'file-malformed'],
  ['with a broken count', { accessors: accessor({ count: 1.5 }) }, 'file-malformed'],
  ['with numbers of no known type', { accessors: accessor({ componentType: 5130 }) }, 'file-malformed'],
  ['with a buffer longer than its bytes', { buffers: [{ byteLength: HUGE }] }, 'file-truncated'],
  [
    'with a view past its buffer',
    { bufferViews: [{ buffer: 0, byteOffset: HUGE, byteLength: 9 }] },
    'file-truncated',
  ],
  ['with lists that are none', { meshes: 7 }, 'file-malformed'],
  ['with nodes in a ring', { nodes: [{ children: [1] }, { children: [0] }] }, 'file-malformed'],
  [
    'with a node below two others',
    { nodes: [{ children: [1, 2] }, { children: [3] }, { children: [3] }, { mesh: 0 }] },
    'file-malformed',
  ],
  ['with nodes deeper than any figure’s', { nodes: [...chain(400), { mesh: 0 }] }, 'file-too-many'],
  ['that shows nothing', { scenes: [{ nodes: [] }] }, 'file-malformed'],
  ['with damaged meshopt bytes', meshoptLie(8, 96), 'file-malformed'],
  [
    'with meshopt bytes that promise a thousand times their size',
    meshoptLie(80_000_000, 40),
    'file-malformed',
  ],
  ['with meshopt bytes past the limit', meshoptLie(HUGE, 40), 'file-unpacks-too-big'],
  [
    'with damaged Draco bytes',
    {
      meshes: [
        {
          primitives: [
            {
              attributes: {},
              extensions: { KHR_draco_mesh_compression: { bufferView: 0, attributes: { POSITION: 0 } } },
            },
          ],
        },
      ],
    },
    'file-malformed',
  ],
  ['with a matrix that is none', { nodes: [{ mesh: 0, matrix: [1, 2, 3] }] }, 'file-malformed'],
  [
    'with a scale past all numbers',
    { nodes: [{ mesh: 0, scale: [1e300, 1e300, 1e300] }] },
    'coordinates-not-finite',
  ],
];

describe('glTF that is not right', () => {
  it.each(REFUSED)('is refused: %s', async (_, changes, code) => {
    await expect(opened(glb(changed(changes)))).rejects.toMatchObject({ code });
    await expect(opened(gltfText(changed(changes)))).rejects.toMatchObject({ code });
  });

  it('is refused when cut anywhere', async () => {
    const whole = glb(gltfDraft(cube));
    for (let length = 4; length < whole.length; length += 7) {
      await expect(opened(whole.slice(0, length))).rejects.toMatchObject({ name: 'PegwrightError' });
    }
  });
});
