import { strToU8, zipSync } from 'fflate';
import { vi } from 'vitest';
import type { ErrorCode } from '../../src/errors.ts';
import { readSvgOutline } from '../../src/io/svg/read-svg-outline.ts';
import { reSkin } from '../../src/mend/skin/re-skin.ts';
import { LIMITS } from '../../src/model/limits.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { lumpySphere } from '../support/figures.ts';
import { asSource, binaryStl, gzipped, obj, triangleCorners } from '../support/mesh-files.ts';
import { glb, gltfDraft, meshXml, modelXml, packageFiles } from '../support/scene-files.ts';
import { box } from '../support/simple-solids.ts';
import { openedFile, refusalIn } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const cube = box([0, 0, 0], [20, 16, 30]);
const stl = binaryStl(triangleCorners(cube));
const sound = openedFile('figure.stl', stl);

const packed = async (cutOff: number) => {
  const bytes = await gzipped(stl);
  return openedFile('figure.stl.gz', bytes.subarray(0, bytes.length - cutOff))();
};

/** A glTF of so many nodes below each other, the last with the mesh. */
const deep = (nodes: number) => {
  const { json, bin } = gltfDraft(cube);
  json.nodes = Array.from({ length: nodes }, (_, i) => (i + 1 < nodes ? { children: [i + 1] } : { mesh: 0 }));
  json.scenes = [{ nodes: [0] }];
  return openedFile('figure.glb', glb({ json, bin }));
};

const ofVersion = (version: string) => {
  const { json, bin } = gltfDraft(cube);
  json.asset = { version };
  return openedFile('figure.glb', glb({ json, bin }));
};

/** A glTF and its buffer beside it, or not. */
const beside = (isThere: boolean) => () => {
  const { json, bin } = gltfDraft(cube);
  json.buffers[0].uri = 'figure.bin';
  const sources = [
    asSource('figure.gltf', JSON.stringify(json)),
    ...(isThere ? [asSource('figure.bin', bin)] : []),
  ];
  return refusalIn(() => openSculpt(sources, { scale: 1 }));
};

/** The head of a binary STL that says it has so many triangles, and as many bytes as that would be to come. */
const claiming = (count: number) => () =>
  refusalIn(() =>
    openSculpt(
      {
        name: 'figure.stl',
        byteLength: 84 + 50 * count,
        async *chunks() {
          yield Buffer.concat([binaryStl([], 'large', count), new Uint8Array(70_000)]);
        },
      },
      { scale: 1 },
    ),
  );

/** Opening where no array of more than so many numbers can be had. */
const inMemoryOf = (most: number) => async () => {
  const Real = Uint32Array;
  class Scarce extends Real {
    constructor(...made: unknown[]) {
      if (Number(made[0]) > most) throw new RangeError('Array buffer allocation failed');
      super(...(made as [number]));
    }
  }
  vi.stubGlobal('Uint32Array', Scarce);
  try {
    return await openedFile('figure.stl', binaryStl(bigFigure))();
  } finally {
    vi.unstubAllGlobals();
  }
};
const ball = lumpySphere(3, 20);
const bigFigure = Array.from({ length: ball.triangles.length / 3 }, (_, t) =>
  [...ball.triangles.subarray(t * 3, t * 3 + 3)].flatMap((v) => [
    ...ball.positions.subarray(v * 3, v * 3 + 3),
  ]),
);

/** A 3MF whose archive says that its model unpacks to so many bytes. */
const declaring = (bytes: number) => () => {
  const files = packageFiles(modelXml(`<object id="1">${meshXml(cube)}</object>`, '<item objectid="1"/>'));
  const named = Object.entries(files).map(([name, text]) => [name, strToU8(String(text))] as const);
  const archive = zipSync(Object.fromEntries(named));
  // A file's size unpacked stands 24 bytes into its entry of the directory (APPNOTE 6.3.10, §4.3.12).
  const entry = Buffer.from(archive).lastIndexOf(Buffer.from('PK\x01\x02', 'latin1'));
  if (bytes > 0) new DataView(archive.buffer).setUint32(entry + 24, bytes, true);
  return openedFile('figure.3mf', archive)();
};

const skinned =
  (cellMm: number, triangles = ball.triangles) =>
  () =>
    refusalIn(() => reSkin({ ...ball, triangles }, { cellMm }));
const turned = Uint32Array.from(ball.triangles, (_, i) => ball.triangles[i - (i % 3) + [0, 2, 1][i % 3]]);

const text = obj(cube);
const withoutFaces = openedFile('figure.obj', text.replace(/^f .*$/gm, ''));

const drawn = (shapes: string) => () =>
  refusalIn(() => readSvgOutline('peg.svg', `<svg xmlns="http://www.w3.org/2000/svg">${shapes}</svg>`));

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  {
    code: 'outline-refused',
    comes: drawn('<circle r="9"/><circle r="20"/>'),
    stays: drawn('<circle r="20"/>'),
  },
  { code: 'file-empty', comes: openedFile('figure.stl', ''), stays: sound },
  { code: 'file-unreadable', comes: () => packed(12), stays: () => packed(0) },
  { code: 'format-unknown', comes: openedFile('figure.stl', 'Dear captain,\n'), stays: sound },
  { code: 'file-truncated', comes: openedFile('figure.stl', stl.subarray(0, stl.length - 11)), stays: sound },
  {
    code: 'file-malformed',
    comes: openedFile('figure.obj', text.replace(/^f .*$/m, 'f 1 2 99')),
    stays: openedFile('figure.obj', text),
  },
  { code: 'file-no-triangles', comes: withoutFaces, stays: openedFile('figure.obj', text) },
  { code: 'file-feature-unknown', comes: ofVersion('1.0'), stays: ofVersion('2.0') },
  { code: 'file-beside-missing', comes: beside(false), stays: beside(true) },
  { code: 'file-unpacks-too-big', comes: declaring(LIMITS.unpackedBytes + 1), stays: declaring(0) },
  { code: 'file-too-many', comes: deep(LIMITS.nesting + 2), stays: deep(LIMITS.nesting - 2) },
  { code: 'file-too-big', comes: claiming(LIMITS.triangles + 1), stays: claiming(100_000) },
  { code: 'out-of-memory', comes: inMemoryOf(1000), stays: inMemoryOf(1e9) },
  {
    code: 'coordinates-not-finite',
    comes: openedFile(
      'figure.stl',
      binaryStl([...triangleCorners(cube), [0, 0, 0, Number.NaN, 0, 0, 0, 1, 0]]),
    ),
    stays: sound,
  },
  { code: 're-skin-too-fine', comes: skinned(0.01), stays: skinned(2) },
  { code: 're-skin-empty', comes: skinned(2, turned), stays: skinned(2) },
];
