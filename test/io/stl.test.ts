import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readMesh } from '../../src/io/read-mesh.ts';
import { stlChunks, writeStlBinary } from '../../src/io/stl/write.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { asSource, binaryStl, dripSource, textStl, triangleCorners, utf8 } from '../support/mesh-files.ts';
import { box, cornersOf, fanned, torus } from '../support/simple-solids.ts';

const asIs = { unit: 'mm', scale: 1 } as const;
const cube = box([1, 2, 3], [4, 6, 8]);
const cubeCorners = triangleCorners(cube).flat();

/** Coordinates of a binary STL's corners as bit patterns, read apart from the engine. */
function cornerBits(file: Uint8Array): number[] {
  const view = new DataView(file.buffer, file.byteOffset);
  const count = view.getUint32(80, true);
  return Array.from({ length: count * 9 }, (_, i) =>
    view.getUint32(84 + Math.floor(i / 9) * 50 + 12 + (i % 9) * 4, true),
  );
}

describe('binary STL (3D Systems, StereoLithography Interface Specification, Oct 1989; copy)', () => {
  it('survives reading and writing bit for bit, wherever it lies and however it is cut up, seed 29', async () => {
    const coordinate = fc.float({ min: -9e6, max: 9e6, noNaN: true });
    const near = fc
      .tuple(coordinate, fc.float({ min: 0, max: 1, noNaN: true }))
      .map(([a, b]) => Math.fround(a + b));
    const facets = fc.array(fc.array(fc.oneof(coordinate, near), { minLength: 9, maxLength: 9 }), {
      minLength: 1,
      maxLength: 12,
    });
    await fc.assert(
      fc.asyncProperty(facets, fc.integer({ min: 1, max: 200 }), async (corners, size) => {
        const file = binaryStl(corners);
        const { mesh, originMm } = await readMesh(dripSource('a.stl', file, size), asIs);
        expect(cornerBits(writeStlBinary(mesh, originMm))).toEqual(cornerBits(file));
      }),
      { seed: 29, numRuns: 300 },
    );
  });

  it('survives far from its origin, where the mesh itself is moved near it', async () => {
    const far = triangleCorners(cube).map((c) => c.map((x, k) => Math.fround(x + [4e6, -3e5, 2e4][k % 3])));
    const file = binaryStl(far);
    const { mesh, originMm } = await readMesh(asSource('a.stl', file), asIs);
    expect(Math.max(...mesh.positions.map(Math.abs))).toBeLessThanOrEqual(8);
    expect(cornerBits(writeStlBinary(mesh, originMm))).toEqual(cornerBits(file));
  });

  it('is told from text even if its header begins with "solid"', async () => {
    const file = binaryStl(triangleCorners(cube), 'solid facet normal');
    const { format, mesh } = await readMesh(asSource('a.stl', file), asIs);
    expect(format).toBe('stl');
    expect(mesh.triangles).toHaveLength(36);
  });

  it('is 84 + 50 n bytes with a header that does not begin with "solid", and unit normals', () => {
    const file = writeStlBinary(fanned(cube), [0, 0, 0]);
    expect(file).toHaveLength(84 + 50 * 12);
    expect(new TextDecoder().decode(file.subarray(0, 80))).not.toMatch(/^\s*solid/i);
    const view = new DataView(file.buffer);
    // The first quad of the box is its floor.
    expect([0, 4, 8].map((k) => view.getFloat32(84 + k, true) + 0)).toEqual([0, 0, -1]);
    const triangles = Uint32Array.of(0, 0, 1);
    const pointed = writeStlBinary({ positions: Float32Array.of(0, 0, 0, 1, 1, 1), triangles }, [0, 0, 0]);
    expect(Array.from(pointed.subarray(84, 96))).toEqual(Array(12).fill(0));
  });

  it('comes out the same in chunks', () => {
    const mesh: Mesh = torus(40, 10, 300, 150);
    const chunks = [
      ...stlChunks({ positions: mesh.positions, added: new Float32Array(0) }, [mesh.triangles], [1, 2, 3]),
    ];
    expect(chunks.length).toBeGreaterThan(2);
    expect(Buffer.compare(Buffer.concat(chunks), writeStlBinary(mesh, [1, 2, 3]))).toBe(0);
  });

  it('that was cut short says how much is there', async () => {
    const file = binaryStl(triangleCorners(cube)).subarray(0, 84 + 50 * 7 + 20);
    await expect(readMesh(asSource('a.stl', file), asIs)).rejects.toMatchObject({
      code: 'file-truncated',
      facts: { promised: 12, found: 7, unit: 'triangles' },
    });
  });

  it('that claims four thousand million triangles is refused by what is there, and takes no memory', async () => {
    const file = binaryStl(triangleCorners(cube), 'lie', 0xffffffff);
    await expect(readMesh(asSource('a.stl', file), asIs)).rejects.toMatchObject({
      code: 'file-truncated',
      facts: { promised: 0xffffffff, found: 12 },
    });
  });

  it('that holds more than it declares is refused, for the rest would be missing', async () => {
    const file = binaryStl(triangleCorners(cube), 'lie', 11);
    await expect(readMesh(asSource('a.stl', file), asIs)).rejects.toMatchObject({ code: 'file-malformed' });
  });

  it('of more triangles than the limit is refused before it is read', async () => {
    const count = 16_000_001;
    const head = binaryStl([], 'large', count);
    const source = {
      name: 'a.stl',
      byteLength: 84 + 50 * count,
      async *chunks() {
        yield head;
        yield new Uint8Array(1000);
        throw new Error('read on');
      },
    };
    await expect(readMesh(source, asIs)).rejects.toMatchObject({
      code: 'file-unreadable',
    });
    const started = {
      ...source,
      chunks: async function* () {
        yield Buffer.concat([head, new Uint8Array(70_000)]);
      },
    };
    await expect(readMesh(started, asIs)).rejects.toMatchObject({
      code: 'file-too-big',
      facts: { triangles: count, limit: 16_000_000 },
    });
  });

  it('without triangles, or with places that are none, is refused', async () => {
    await expect(readMesh(asSource('a.stl', binaryStl([])), asIs)).rejects.toMatchObject({
      code: 'file-no-triangles',
    });
    const bad = binaryStl([[0, 0, 0, Number.NaN, 0, 0, 0, Number.POSITIVE_INFINITY, 0]]);
    await expect(readMesh(asSource('a.stl', bad), asIs)).rejects.toMatchObject({
      code: 'coordinates-not-finite',
      facts: { count: 2 },
    });
  });

  it('takes unit and scale in', async () => {
    const { mesh, originMm } = await readMesh(asSource('a.stl', binaryStl(triangleCorners(cube))), {
      unit: 'inch',
      scale: 2,
    });
    const expected = cubeCorners.map((x) => Math.fround(x * 50.8));
    expect(cornersOf(mesh).map((x, i) => Math.fround(x + originMm[i % 3]))).toEqual(expected);
  });
});

describe('text STL', () => {
  const read = async (text: string) => {
    const { mesh, originMm } = await readMesh(dripSource('a.stl', utf8(text), 37), asIs);
    return cornersOf(mesh).map((x, i) => x + originMm[i % 3]);
  };

  it('is read, with any line ends, case and spread over lines', async () => {
    const text = textStl(cube);
    for (const variant of [
      text,
      text.replaceAll('\n', '\r\n'),
      text.replaceAll('\n', '\r'),
      text.toUpperCase(),
    ]) {
      expect(await read(variant)).toEqual(cubeCorners);
    }
    const [first, ...rest] = text.split('\n');
    expect(await read(`${first}\n${rest.slice(0, -2).join(' ')}\n${rest.at(-2)}`)).toEqual(cubeCorners);
  });

  it('of several solids is one mesh, and a byte order mark is no part of it', async () => {
    expect(await read(`\ufeff${textStl(cube)}${textStl(cube)}`)).toEqual([...cubeCorners, ...cubeCorners]);
  });

  it.each([
    ['a word is no number', textStl(cube).replace('vertex 1 2', 'vertex 1 oops'), 'file-malformed', 4],
    ['a facet has two corners', textStl(cube).replace(/ {3}vertex.*\n/, ''), 'file-malformed', 6],
    ['a stranger stands in it', textStl(cube).replace('outer', 'inner'), 'file-malformed', 3],
    ['it ends in a facet', textStl(cube).slice(0, 300), 'file-truncated', undefined],
    ['it has no facets', 'solid a\nendsolid a\n', 'file-no-triangles', undefined],
    [
      'a place is none',
      textStl(cube).replace('vertex 1 2', 'vertex nan 2'),
      'coordinates-not-finite',
      undefined,
    ],
  ])('is refused where %s', async (_, text, code, line) => {
    const refusal = expect(readMesh(asSource('a.stl', text), asIs)).rejects;
    await refusal.toMatchObject({ code, facts: line === undefined ? {} : { line } });
  });
});
