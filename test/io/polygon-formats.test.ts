import { describe, expect, it } from 'vitest';
import { readMesh } from '../../src/io/read-mesh.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import {
  binaryPly,
  dripSource,
  everyFormat,
  gzipped,
  obj,
  off,
  textPly,
  utf8,
} from '../support/mesh-files.ts';
import { box, cornersOf, fanned, frustum, plainVolume } from '../support/simple-solids.ts';

const asIs = { unit: 'mm', scale: 1 } as const;
const solid = frustum(4, 2, 6);
const corners = cornersOf(fanned(solid));

async function read(file: string | Uint8Array, name = 'any.bin', size = 23) {
  const bytes = typeof file === 'string' ? utf8(file) : file;
  const { mesh, format } = await readMesh(dripSource(name, bytes, size), asIs);
  return { format, corners: cornersOf(mesh), mesh };
}

const refusal = (file: string | Uint8Array) => expect(read(file)).rejects;

describe('every format', () => {
  it.each(everyFormat(solid))(
    '%s gives the frustum of volume 56 (Moscow Papyrus 14; seen), by content alone',
    async (name, bytes) => {
      for (const size of [1, 7, 64, 100_000]) {
        const { format, mesh, corners: found } = await read(bytes, 'picture.png', size);
        expect(format).toBe(name.split('.')[1]);
        expect(found).toEqual(corners);
        expect(plainVolume(weld(mesh).mesh)).toBeCloseTo(56, 12);
      }
    },
  );

  it.each(everyFormat(solid))('%s is unpacked when gzip’d', async (_, bytes) => {
    expect((await read(await gzipped(bytes))).corners).toEqual(corners);
  });

  it('refuses a packed file that breaks off or is damaged', async () => {
    const packed = await gzipped(utf8(textPly(solid)));
    await refusal(packed.subarray(0, packed.length - 12)).toMatchObject({ code: 'file-unreadable' });
    const damaged = packed.slice();
    damaged[packed.length - 6] ^= 0xff;
    await refusal(damaged).toMatchObject({ code: 'file-unreadable' });
  });
});

describe('OBJ (Wavefront OBJ; copy)', () => {
  it('counts negative indices back from the last vertex', async () => {
    const back = obj(solid).replace(/^f .*/gm, (face) => face.replace(/\d+/g, (n) => String(Number(n) - 9)));
    expect((await read(back)).corners).toEqual(corners);
  });

  it('passes over texture and normal references, groups, comments and lines', async () => {
    const forms = ['$1/1', '$1//2', '$1/1/2'];
    for (const form of forms) {
      const text = obj(solid)
        .replace(/^f .*/gm, (face) => face.replace(/(\d+)/g, form))
        .replace(
          '# test',
          'mtllib a b.mtl\no thing\ng a b\ns off\nvt 0 0\nvn 0 0 1\nvp 1 2\nl 1 2\np 1 # point',
        );
      expect((await read(text)).corners).toEqual(corners);
    }
  });

  it('joins lines that a backslash continues', async () => {
    const text = obj(solid).replace(/^(f \d+ \d+) /gm, '$1 \\\r\n  ');
    expect((await read(text)).corners).toEqual(corners);
  });

  it('takes faces before their vertices, and colours behind them', async () => {
    const lines = obj(solid).replace(/^v .*/gm, '$& 0.5 0.5 0.5').trim().split('\n');
    const facesFirst = [...lines.filter((l) => l[0] === 'f'), ...lines.filter((l) => l[0] === 'v')].join(
      '\n',
    );
    expect((await read(facesFirst)).corners).toEqual(corners);
  });

  it('cuts a concave face along its inside', async () => {
    const text = 'v 0 0 0\nv 4 -3 0\nv 1 0 0\nv 4 3 0\nf 1 2 3 4\n';
    const { mesh } = await read(text);
    // The notch is corner 3: the diagonal must run from it to corner 1.
    expect(Array.from(mesh.triangles.subarray(0, 3)).includes(2)).toBe(true);
    expect(Array.from(mesh.triangles.subarray(3, 6)).includes(2)).toBe(true);
  });

  it.each([
    ['there is no vertex 9', obj(solid).replace(/^f 1 /m, 'f 9 '), 10],
    ['there is no vertex -9', obj(solid).replace(/^f 1 /m, 'f -9 '), 10],
    ['there is no vertex 0', obj(solid).replace(/^f 1 /m, 'f 0 '), 10],
    ['a coordinate is missing', obj(solid).replace(/^v .*/m, 'v 1 2'), 2],
    ['an index is not whole', obj(solid).replace(/^f 1 /m, 'f 1.5 '), 10],
  ])('is refused where %s', async (_, text, line) => {
    await refusal(text).toMatchObject({ code: 'file-malformed', facts: { line } });
  });
});

describe('PLY (Turk, 1994; copy)', () => {
  const odd = {
    header: (format: string) =>
      `ply\r\nformat ${format} 1.0\r\ncomment vertex\r\nobj_info x\r\nelement material 2\r\nproperty list uchar short tags\r\n` +
      'property uchar kind\r\nelement vertex 3\r\nproperty uchar red\r\nproperty double z\r\nproperty short y\r\nproperty float x\r\n' +
      'property list ushort uint8 extra\r\nelement face 1\r\nproperty int8 flags\r\nproperty list uint32 uint16 vertex_index\r\nend_header\r\n',
    corners: [10, 20, 0.1, 11, 20, 0.1, 10, -21, 0.1],
  };

  it('takes properties of any type in any order, and elements it does not know', async () => {
    const text = `${odd.header('ascii')}2 -1 -2 7\r\n0 7\r\n255 0.1 20 10 0\r\n0 0.1 20 11 2 1 2\r\n0 0.1 -21 10 0\r\n-1 3 0 1 2\r\n`;
    const { mesh, originMm } = await readMesh(dripSource('a.ply', utf8(text), 11), asIs);
    cornersOf(mesh).forEach((x, i) => {
      expect(x + originMm[i % 3]).toBeCloseTo(odd.corners[i], 7);
    });
  });

  it.each([true, false])('takes the same in binary, little-endian %s', async (little) => {
    const bytes: number[] = [];
    const put = (size: number, set: (view: DataView) => void) => {
      const view = new DataView(new ArrayBuffer(size));
      set(view);
      bytes.push(...new Uint8Array(view.buffer));
    };
    const u8 = (v: number) => put(1, (d) => d.setUint8(0, v));
    const i16 = (v: number) => put(2, (d) => d.setInt16(0, v, little));
    const vertex = (x: number, y: number, z: number, extra: number[]) => {
      u8(200);
      put(8, (d) => d.setFloat64(0, z, little));
      i16(y);
      put(4, (d) => d.setFloat32(0, x, little));
      i16(extra.length);
      extra.forEach(u8);
    };
    for (const tags of [[-1, -2], []]) {
      u8(tags.length);
      tags.forEach(i16);
      u8(7);
    }
    vertex(10, 20, 0.1, []);
    vertex(11, 20, 0.1, [1, 2, 3]);
    vertex(10, -21, 0.1, []);
    u8(1);
    put(4, (d) => d.setUint32(0, 3, little));
    for (const v of [0, 1, 2]) i16(v);
    const header = utf8(odd.header(little ? 'binary_little_endian' : 'binary_big_endian'));
    const file = Buffer.concat([header, Uint8Array.from(bytes)]);
    for (const size of [1, 5, 1000]) {
      const { mesh, originMm } = await readMesh(dripSource('a.ply', file, size), asIs);
      cornersOf(mesh).forEach((x, i) => {
        expect(x + originMm[i % 3]).toBeCloseTo(odd.corners[i], 7);
      });
    }
  });

  it('unrolls triangle strips, every second triangle the other way', async () => {
    const text =
      'ply\nformat ascii 1.0\nelement vertex 5\nproperty float x\nproperty float y\nproperty float z\n' +
      'element tristrips 1\nproperty list int int vertex_indices\nend_header\n' +
      '0 0 0\n1 0 0\n0 1 0\n1 1 0\n0 2 0\n8 0 1 2 3 -1 2 3 4\n';
    const { mesh } = await read(text);
    expect(Array.from(mesh.triangles)).toEqual([0, 1, 2, 2, 1, 3, 2, 3, 4]);
  });

  const little = binaryPly(solid, true);
  const changed = (from: string, to: string) => Buffer.from(little).toString('latin1').replace(from, to);
  const latin = (text: string) => new Uint8Array(Buffer.from(text, 'latin1'));
  it.each([
    ['its vertices have no z', latin(changed('float z', 'float w')), 'file-malformed'],
    ['its encoding is unknown', latin(changed('little', 'middle')), 'file-malformed'],
    ['it has no end of header', latin(changed('end_header', 'end_head')), 'file-truncated'],
    [
      'it claims a thousand million vertices',
      latin(changed('vertex 8', 'vertex 1000000000')),
      'file-truncated',
    ],
    ['it holds a face more than it declares', latin(changed('face 6', 'face 5')), 'file-malformed'],
    ['it is cut short', little.subarray(0, little.length - 3), 'file-truncated'],
    [
      'it claims faces without properties for ever',
      latin(changed('property list uchar int vertex_indices\n', '').replace('face 6', 'face 999999999999')),
      'file-malformed',
    ],
    ['a text line is missing', utf8(textPly(solid).replace(/\n4 [\d ]*\n$/, '\n')), 'file-truncated'],
    ['a text index is too large', utf8(textPly(solid).replace(/^4 0/m, '4 8')), 'file-malformed'],
  ])('is refused where %s', async (_, bytes, code) => {
    await refusal(bytes).toMatchObject({ code });
  });
});

describe('OFF', () => {
  it('passes over comments, and colour and normal columns', async () => {
    const text = off(solid)
      .replace('OFF\n', '# first\n\nCNOFF # header\n')
      .replace(/^(-?[12] -?[12] [06])$/gm, '$1 0 0 1 0.5 0.5 0.5 1 # vertex')
      .replace(/^4 .*$/gm, '$& 3 255 0 0');
    expect((await read(text)).corners).toEqual(corners);
  });

  it('takes the counts on the header’s line', async () => {
    expect((await read(off(solid).replace('OFF\n', 'OFF '))).corners).toEqual(corners);
  });

  it.each([
    ['it is binary', off(solid).replace('OFF', 'OFF BINARY'), 'file-malformed'],
    ['its vertices have four coordinates', off(solid).replace('OFF', '4OFF'), 'file-malformed'],
    ['a face is missing', off(solid).replace('8 6 0', '8 7 0'), 'file-truncated'],
    ['vertices are missing', off(solid).replace('8 6 0', '999999999999 6 0'), 'file-truncated'],
    ['there are more faces than declared', off(solid).replace('8 6 0', '8 5 0'), 'file-malformed'],
    ['an index is too large', off(solid).replace(/^4 0/m, '4 8'), 'file-malformed'],
    ['a face has a thousand million corners', off(solid).replace(/^4 0/m, '1000000000 0'), 'file-malformed'],
  ])('is refused where %s', async (_, text, code) => {
    await refusal(text).toMatchObject({ code });
  });
});

it.each(everyFormat(solid))(
  '%s cut short is truncated or has no triangles left, wherever the cut',
  async (name, bytes) => {
    // The last line's end and the closing word of a text STL may be missing; a cut number is another number.
    const needed = name === 'text.stl' ? bytes.length - 30 : bytes.length - 3;
    for (let length = Math.ceil(bytes.length / 2); length < needed; length++) {
      const outcome = await read(bytes.subarray(0, length)).then(
        ({ mesh }) => `${mesh.triangles.length / 3} triangles`,
        (error) => error.code,
      );
      if (name === 'solid.obj' || name === 'text.stl')
        expect(outcome).toMatch(/^(file-truncated|file-no-triangles|\d triangles|1[01] triangles)$/);
      else expect(outcome).toBe('file-truncated');
    }
  },
);

describe('what is no mesh', () => {
  const padded = (start: string) => Buffer.concat([Buffer.from(start, 'latin1'), Buffer.alloc(2000, 7)]);
  it.each([
    ['png', padded('\x89PNG\r\n\x1a\n')],
    ['jpeg', padded('\xff\xd8\xff\xe0')],
    ['pdf', padded('%PDF-1.7\n')],
    ['7z', padded("7z\xbc\xaf'\x1c")],
    ['zip', padded('PK\x05\x06')],
    ['web-page', padded('<!DOCTYPE html><html>')],
  ])('is known to be %s, whatever its name', async (looksLike, bytes) => {
    await expect(read(new Uint8Array(bytes), 'figure.stl')).rejects.toMatchObject({
      code: 'format-unknown',
      facts: { file: 'figure.stl', looksLike },
    });
  });

  it('is refused when nothing is known of it, or nothing is there', async () => {
    await refusal('hello, this is a letter\n').toMatchObject({ code: 'format-unknown' });
    await refusal(new Uint8Array(5000).fill(201)).toMatchObject({ code: 'format-unknown' });
    await refusal('').toMatchObject({ code: 'file-empty' });
    await refusal(await gzipped(new Uint8Array(0))).toMatchObject({ code: 'file-empty' });
  });

  it('is unreadable where the source fails, and progress only grows', async () => {
    const failing = {
      name: 'a.stl',
      byteLength: 100,
      async *chunks() {
        yield utf8('solid a\n');
        throw new Error('the disk is gone');
      },
    };
    await expect(readMesh(failing, asIs)).rejects.toMatchObject({
      code: 'file-unreadable',
      facts: { file: 'a.stl', trouble: { is: 'said', words: 'the disk is gone' } },
    });
    const told: number[] = [];
    const source = dripSource('a.stl', everyFormat(box([0, 0, 0], [1, 1, 1]))[0][1], 100);
    await readMesh(source, { ...asIs, onProgress: (_, done) => told.push(done) });
    expect(told).toEqual([...told].sort((a, b) => a - b));
    expect(told.at(-1)).toBe(1);
  });
});
