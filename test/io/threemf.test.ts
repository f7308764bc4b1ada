import { BlobWriter, TextReader, Uint8ArrayReader, ZipWriter } from '@zip.js/zip.js';
import { describe, expect, it } from 'vitest';
import { type ReadMesh, readMesh } from '../../src/io/read-mesh.ts';
import { boundsOf } from '../../src/mesh/measure.ts';
import { LIMITS } from '../../src/model/limits.ts';
import { asSource, dripSource, gzipped, utf8 } from '../support/mesh-files.ts';
import {
  meshXml,
  modelXml,
  packageFiles,
  relations,
  threeMf,
  zipped,
  zippedInOrder,
} from '../support/scene-files.ts';
import { box, plainVolume } from '../support/simple-solids.ts';
import { streamedBytes } from '../support/streamed-bytes.ts';

/** 3MF Core Specification 1.4.0 (2025-02-06), sections as named. */

const cube = box([0, 0, 0], [1, 2, 3]);
const read = (bytes: Uint8Array, unit?: 'mm') => readMesh(asSource('a.3mf', bytes), { unit, scale: 1 });
const packed = (resources: string, build: string, attributes?: string) =>
  zipped(packageFiles(modelXml(resources, build, attributes)));
const object = (id: number, content: string, name = '') =>
  `<object id="${id}" name="${name}">${content}</object>`;
const one = object(1, meshXml(cube), 'block');
const item = '<item objectid="1"/>';

function places({ mesh, originMm }: ReadMesh) {
  const { min, max } = boundsOf(mesh);
  return { min: min.map((v, k) => v + originMm[k]), max: max.map((v, k) => v + originMm[k]) };
}

describe('an archive', () => {
  const model = modelXml(one, item);
  const files = Object.entries(packageFiles(model));
  const other = modelXml(object(1, meshXml(box([0, 0, 0], [9, 9, 9]))), item);

  it.each([
    ['../evil.model', '../evil.model'],
    ['a path that leads out and comes back', '../3D/3dmodel.model'],
    ['a leading slash', '/notes.txt'],
    ['backslashes', 'C:\\notes\\a.txt'],
    ['a folder', '3D/'],
    ['what macOS adds', '__MACOSX/3D/._3dmodel.model'],
    ['a point', './notes.txt'],
    ['two slashes', 'notes//a.txt'],
  ])('is read where an entry that nothing names has %s', async (_, name) => {
    for (const entries of [
      [...files, [name, other] as const],
      [[name, other] as const, ...files],
    ]) {
      const result = await read(zippedInOrder(entries));
      expect(places(result).max).toEqual([1, 2, 3]);
    }
  });

  it.each([
    ['a leading slash', '/3D/3dmodel.model'],
    ['backslashes', '3D\\3dmodel.model'],
  ])('is read where the model itself has %s', async (_, name) => {
    const entries = files.map(([path, file]) => [path === '3D/3dmodel.model' ? name : path, file] as const);
    expect(places(await read(zippedInOrder(entries))).max).toEqual([1, 2, 3]);
  });

  it.each(['3D/3dmodel.model', '/3D/3dmodel.model', '3d/3DMODEL.model', '_rels/.rels'])(
    'is refused where a second file is called %s, for nobody can tell which is meant',
    async (name) => {
      for (const entries of [
        [...files, [name, other] as const],
        [[name, other] as const, ...files],
      ]) {
        await expect(read(zippedInOrder(entries))).rejects.toMatchObject({
          code: 'file-malformed',
          facts: { fault: { is: 'archive-name-shared' } },
        });
      }
    },
  );

  it('is read where two files have one name that nothing names', async () => {
    const entries = [...files, ['Metadata/a.png', 'x'], ['Metadata/a.png', 'y']] as const;
    expect(places(await read(zippedInOrder(entries))).max).toEqual([1, 2, 3]);
  });
});

describe('3MF', () => {
  it.each([
    ['micron', 'micron', 0.001],
    ['millimeter', 'mm', 1],
    ['centimeter', 'cm', 10],
    ['inch', 'inch', 25.4],
    ['foot', 'foot', 304.8],
    ['meter', 'm', 1000],
  ] as const)('is read in %s as it declares (§3.4)', async (name, unit, mm) => {
    const result = await read(threeMf(cube, `unit="${name}"`));
    expect(result).toMatchObject({ format: '3mf', unit, declaredUnit: unit });
    expect(places(result).max).toEqual([1, 2, 3].map((v) => Math.fround(v * mm)));
  });

  it('is in millimetres where it declares nothing, and in the unit asked for where one is', async () => {
    expect(await read(threeMf(cube, ''))).toMatchObject({ unit: 'mm', declaredUnit: 'mm' });
    const asked = await read(threeMf(cube, 'unit="inch"'), 'mm');
    expect(asked).toMatchObject({ unit: 'mm', declaredUnit: 'inch' });
    expect(places(asked).max).toEqual([1, 2, 3]);
  });

  it('places items and components by the product of their transforms (§3.3)', async () => {
    // A quarter turn about Z, then a move; the item doubles all of it and moves on.
    const turned = '<component objectid="1" transform="0 1 0 -1 0 0 0 0 1 10 0 0"/>';
    const result = await read(
      packed(
        one + object(2, `<components>${turned}</components>`),
        '<item objectid="2" transform="2 0 0 0 2 0 0 0 2 0 0 5"/><item objectid="1"/>',
      ),
    );
    expect(result.bodies).toEqual([
      { name: 'block', triangleCount: 12 },
      { name: 'block', triangleCount: 12 },
    ]);
    expect(places(result)).toEqual({ min: [0, 0, 0], max: [20, 2, 11] });
    expect(plainVolume(result.mesh)).toBeCloseTo(6 * 8 + 6, 5);
  });

  it('keeps the outside of a mirrored body outside', async () => {
    const result = await read(packed(one, '<item objectid="1" transform="-1 0 0 0 1 0 0 0 1 0 0 0"/>'));
    expect(plainVolume(result.mesh)).toBeCloseTo(6, 6);
    expect(places(result).min).toEqual([-1, 0, 0]);
  });

  it('names bodies after their objects, after what they are components of, or not at all', async () => {
    const plain = `<object id="1">${meshXml(cube)}</object>`;
    const parent = object(2, '<components><component objectid="1"/></components>', 'Käfer &amp; Co');
    const result = await read(packed(plain + parent, '<item objectid="2"/><item objectid="1"/>'));
    expect(result.bodies?.map(({ name }) => name)).toEqual(['Käfer & Co', '']);
  });

  it('gives what no other object is made of where nothing is built', async () => {
    const parent = object(2, '<components><component objectid="1"/></components>', 'figure');
    expect((await read(packed(one + parent, ''))).bodies).toEqual([{ name: 'block', triangleCount: 12 }]);
  });

  it('follows paths to other model parts, each in its own unit (production extension)', async () => {
    const files = packageFiles(
      modelXml(
        object(5, '<components><component objectid="1" p:path="/3D/parts/a%20b.model"/></components>'),
        '<item objectid="5"/><item objectid="1" p:path="/3D/parts/a b.model" transform="1 0 0 0 1 0 0 0 1 100 0 0"/>',
        'unit="millimeter" requiredextensions="p"',
      ),
      { '3D/parts/a b.model': modelXml(one, '', 'unit="centimeter"') },
    );
    const result = await read(zipped(files));
    expect(places(result)).toEqual({ min: [0, 0, 0], max: [110, 20, 30] });
    expect(plainVolume(result.mesh)).toBeCloseTo(12_000, 2);
  });

  it('is told by namespace, whatever the prefix, and passes over what others add', async () => {
    const xml = modelXml(one, item)
      .replace('xmlns=', 'xmlns:c=')
      .replace(/<(\/?)(?=[a-z])/g, '<$1c:')
      .replace('<c:build>', '<x:item xmlns:x="urn:other" objectid="7"/><c:build>')
      .replace('<c:vertices>', '<x:vertex xmlns:x="urn:other" x="99" y="99" z="99"/><c:vertices>');
    expect(places(await read(zipped(packageFiles(xml)))).max).toEqual([1, 2, 3]);
  });

  it.each(['utf16le', 'utf16be'])('is read in UTF-16 with a mark: %s (§2.3)', async (encoding) => {
    const bytes = Buffer.from(`\ufeff${modelXml(one, item).replace('UTF-8', 'UTF-16')}`, 'utf16le');
    if (encoding === 'utf16be') bytes.swap16();
    const result = await read(zipped(packageFiles(new Uint8Array(bytes))));
    expect(result.bodies).toEqual([{ name: 'block', triangleCount: 12 }]);
  });

  it('is read Stored, with ZIP64, with sizes behind the data, gzip’d, and byte by byte', async () => {
    const files = packageFiles(modelXml(one, item));
    const wanted = places(await read(zipped(files)));
    expect(places(await read(zipped(files, 0)))).toEqual(wanted);
    const blob = new BlobWriter();
    const writer = new ZipWriter(blob, { zip64: true, dataDescriptor: true, useWebWorkers: false });
    for (const [name, text] of Object.entries(files)) {
      await writer.add(name, typeof text === 'string' ? new TextReader(text) : new Uint8ArrayReader(text));
    }
    const zip64 = new Uint8Array(await (await writer.close()).arrayBuffer());
    expect(places(await read(zip64))).toEqual(wanted);
    expect(places(await read(await gzipped(zipped(files))))).toEqual(wanted);
    const drip = await readMesh(dripSource('a.3mf', zipped(files), 1), { scale: 1 });
    expect(places(drip)).toEqual(wanted);
  });

  it('has numbers with blanks around them or references in them, as XML allows', async () => {
    const spelt = one.replaceAll('x="1"', 'x=" 1.0e0 "').replaceAll('z="3"', "z = '&#51;'");
    expect(places(await read(packed(spelt, item))).max).toEqual([1, 2, 3]);
  });

  it('finds its model by the relation, not by its place, and without regard to case', async () => {
    const model = modelXml(one, item);
    const files = { '_rels/.rels': relations('Other/../Models/MINE.model'), 'models/mine.model': model };
    expect((await read(zipped(files))).mesh.triangles).toHaveLength(36);
  });
});

const bigCount = (n: number) => Array.from({ length: n }, (_, i) => i + 10);
/** Objects that are each made of the one before twice: 2ⁿ copies of the first. */
const doubling = (n: number) =>
  one +
  bigCount(n)
    .map((id, i) => {
      const inner = `<component objectid="${i === 0 ? 1 : id - 1}"/>`;
      return object(id, `<components>${inner}${inner}</components>`);
    })
    .join('');

const REFUSED: [what: string, bytes: () => Uint8Array, code: string][] = [
  ['an archive that is something else', () => zipped({ 'letter.txt': 'Dear captain' }), 'format-unknown'],
  ['an archive cut short', () => threeMf(cube).slice(0, -30), 'file-malformed'],
  [
    'a model part that is not there',
    () => zipped({ '_rels/.rels': relations('/3D/x.model') }),
    'file-malformed',
  ],
  [
    'a path out of the package',
    () => packed(one, '<item objectid="1" p:path="/../../../etc/passwd"/>'),
    'file-malformed',
  ],
  [
    'a document type',
    () => zipped(packageFiles(`<!DOCTYPE m>${modelXml(one, item)}`)),
    'file-feature-unknown',
  ],
  [
    'entities that grow',
    () => zipped(packageFiles(`<!DOCTYPE m [<!ENTITY a "&b;&b;"><!ENTITY b "lol">]>${modelXml(one, item)}`)),
    'file-feature-unknown',
  ],
  [
    'an extension it cannot do without',
    () => packed(one, item, 'requiredextensions="b" xmlns:b="urn:beams"'),
    'file-feature-unknown',
  ],
  ['a unit of its own', () => packed(one, item, 'unit="ell"'), 'file-malformed'],
  ['an object that is not there', () => packed(one, '<item objectid="9"/>'), 'file-malformed'],
  [
    'an object made of itself',
    () => packed(object(2, '<components><component objectid="2"/></components>'), '<item objectid="2"/>'),
    'file-too-many',
  ],
  ['2⁶⁰ copies', () => packed(doubling(60), '<item objectid="69"/>'), 'file-too-many'],
  ['2²² copies of 12 triangles', () => packed(doubling(22), '<item objectid="31"/>'), 'file-too-many'],
  ['a vertex number too large', () => packed(one.replace('v1="0"', 'v1="8"'), item), 'file-malformed'],
  ['a negative vertex number', () => packed(one.replace('v1="0"', 'v1="-1"'), item), 'file-malformed'],
  ['a vertex that is no number', () => packed(one.replace('x="1"', 'x="nan"'), item), 'file-malformed'],
  [
    'a vertex absurdly far off',
    () => packed(one.replace('x="1"', 'x="1e300"'), item),
    'coordinates-not-finite',
  ],
  [
    'a transform of eleven numbers',
    () => packed(one, '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>'),
    'file-malformed',
  ],
  [
    'no triangles',
    () => packed('<object id="1"><mesh><vertices/><triangles/></mesh></object>', item),
    'file-no-triangles',
  ],
];

describe('3MF that is not right', () => {
  it.each(REFUSED)('is refused: %s', async (_, bytes, code) => {
    await expect(read(bytes())).rejects.toMatchObject({ code });
  });

  it('is refused before it unpacks to more than the limit', async () => {
    // 1.1 GB of blanks declared truly: the sum of the declared sizes is enough.
    const blanks = zipped(packageFiles(modelXml(one, item), { 'a.txt': new Uint8Array(1), 'b.txt': 'x' }));
    const lying = blanks.slice();
    declareSize(lying, 'a.txt', LIMITS.unpackedBytes + 1);
    const streamed = await streamedBytes(() =>
      expect(read(lying)).rejects.toMatchObject({ code: 'file-unpacks-too-big' }),
    );
    expect(streamed).toBeLessThanOrEqual(lying.length);
  });

  it('is refused when it unpacks to more than it declares', async () => {
    const files = packageFiles(modelXml(one, `${item}${' '.repeat(3_000_000)}`));
    const lying = zipped(files);
    declareSize(lying, '3D/3dmodel.model', 5000);
    await expect(read(lying)).rejects.toMatchObject({ code: 'file-malformed' });
  });

  it('is refused when its bytes do not fit their checksum', async () => {
    const bytes = zipped(packageFiles(modelXml(one, item)), 0);
    const at = Buffer.from(bytes).indexOf('z="3"');
    bytes.set(utf8('z="4"'), at);
    await expect(read(bytes)).rejects.toMatchObject({ code: 'file-malformed' });
  });
});

/** Changes the unpacked size that a file has in the archive's two lists. */
function declareSize(zip: Uint8Array, name: string, size: number): void {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  for (let at = 0; at + 46 < zip.length; at++) {
    const mark = view.getUint32(at, true);
    const [sizeAt, nameAt] = mark === 0x04034b50 ? [22, 30] : mark === 0x02014b50 ? [24, 46] : [0, 0];
    if (nameAt === 0 || Buffer.from(zip.subarray(at + nameAt, at + nameAt + name.length)).toString() !== name)
      continue;
    view.setUint32(at + sizeAt, size, true);
  }
}
