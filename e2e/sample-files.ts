import { deflateSync } from 'node:zlib';

/** A cube from the origin as a binary STL, twelve facets. `side` in mm. */
export function boxStl(side: number): Buffer {
  const corner = (i: number) => [i & 1, (i >> 1) & 1, (i >> 2) & 1].map((bit) => bit * side);
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ];
  const triangles = quads.flatMap(([a, b, c, d]) => [
    [a, b, c],
    [a, c, d],
  ]);
  return stlOf(triangles.map((t) => t.flatMap(corner)));
}

/** A binary STL of triangles, nine numbers each, mm. */
export function stlOf(triangles: readonly (readonly number[])[]): Buffer {
  const bytes = Buffer.alloc(84 + 50 * triangles.length);
  bytes.writeUInt32LE(triangles.length, 80);
  triangles.forEach((t, i) => {
    t.forEach((v, k) => {
      bytes.writeFloatLE(v, 84 + 50 * i + 12 + 4 * k);
    });
  });
  return bytes;
}

/** The same STL without its last facets. */
export function withoutFacets(stl: Buffer, count: number): Buffer {
  const kept = Buffer.from(stl.subarray(0, stl.length - 50 * count));
  kept.writeUInt32LE((kept.length - 84) / 50, 80);
  return kept;
}

/** A small true PNG: one grey pixel. */
export function pngBytes(): Buffer {
  const chunk = (type: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(type), data]);
    const out = Buffer.alloc(8 + data.length + 4);
    out.writeUInt32BE(data.length, 0);
    body.copy(out, 4);
    out.writeUInt32BE(crc(body), 8 + data.length);
    return out;
  };
  const header = Buffer.from([0, 0, 0, 1, 0, 0, 0, 1, 8, 0, 0, 0, 0]);
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.from([0, 128]))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

/** CRC-32 as PNG has it (ISO/IEC 15948, Annex D). */
function crc(bytes: Buffer): number {
  let c = 0xffffffff;
  for (const byte of bytes) {
    c ^= byte;
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1;
  }
  return (c ^ 0xffffffff) >>> 0;
}
