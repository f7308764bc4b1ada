import { describe, expect, it } from 'vitest';
import { readMesh, readMeshes } from '../../src/io/read-mesh.ts';
import { boundsOf } from '../../src/mesh/measure.ts';
import { LIMITS } from '../../src/model/limits.ts';
import { asSource, binaryStl, obj, textPly, textStl, triangleCorners, utf8 } from '../support/mesh-files.ts';
import { glb, gltfDraft, threeMf } from '../support/scene-files.ts';
import { box, plainVolume } from '../support/simple-solids.ts';

const near = box([0, 0, 0], [1, 1, 1]);
const far = box([2, 0, 0], [4, 2, 2]);
const bodiesOf = async (name: string, file: string | Uint8Array) =>
  (await readMesh(asSource(name, file), { scale: 1 })).bodies;

/** The second solid's OBJ behind the first's, its vertices counted on. */
const objOf = (first: string, second: string) =>
  `${first}\n${obj(near)}${second}\n${obj({ ...far, faces: far.faces.map((f) => f.map((v) => v + 8)) })}`;

describe('bodies', () => {
  it('are the objects of an OBJ, under their names', async () => {
    expect(await bodiesOf('a.obj', objOf('o small block', 'o große Kiste'))).toEqual([
      { name: 'small block', triangleCount: 12 },
      { name: 'große Kiste', triangleCount: 12 },
    ]);
  });

  it('are the groups of an OBJ without objects', async () => {
    expect(await bodiesOf('a.obj', objOf('g one', 'g two'))).toEqual([
      { name: 'one', triangleCount: 12 },
      { name: 'two', triangleCount: 12 },
    ]);
    expect(await bodiesOf('a.obj', objOf('o all\ng one', 'g two'))).toEqual([
      { name: 'all', triangleCount: 24 },
    ]);
  });

  it('are one where groups share vertices, for one surface spans them', async () => {
    const grouped = (solid: typeof near) => obj(solid).replace(/^f/gm, (f) => `g side\n${f}`);
    expect(await bodiesOf('a.obj', grouped(near))).toEqual([{ name: 'side', triangleCount: 12 }]);
    const both = objOf('g first', 'g second').replace('g second', 'g bridge\nf 1 2 3\ng second');
    expect(await bodiesOf('a.obj', both)).toEqual([
      { name: 'first', triangleCount: 13 },
      { name: 'second', triangleCount: 12 },
    ]);
    // The last face goes back to the first body, and takes what stands between with it.
    expect(await bodiesOf('a.obj', `${objOf('g first', 'g second')}g last\nf 1 2 3\n`)).toEqual([
      { name: 'first', triangleCount: 25 },
    ]);
  });

  it('are not told where they are more than anybody could want apart', async () => {
    const triangle = 'v 0 0 0\nv 1 0 0\nv 0 1 0\nf -1 -2 -3\n';
    const groups = (count: number) =>
      Array.from({ length: count }, (_, i) => `g part ${i}\n${triangle}`).join('');
    expect(await bodiesOf('a.obj', groups(LIMITS.bodies))).toHaveLength(LIMITS.bodies);
    expect(await bodiesOf('a.obj', groups(LIMITS.bodies + 1))).toBeUndefined();
  });

  it('are the solids of a text STL; empty ones are none', async () => {
    const first = textStl(near).replaceAll('test', 'small block');
    const second = textStl(far).replaceAll('test', '');
    expect(await bodiesOf('a.stl', `${first}solid empty\nendsolid empty\n${second}`)).toEqual([
      { name: 'small block', triangleCount: 12 },
      { name: '', triangleCount: 12 },
    ]);
  });

  it('are not told where a format has none', async () => {
    expect(await bodiesOf('a.stl', binaryStl(triangleCorners(near)))).toBeUndefined();
    expect(await bodiesOf('a.ply', textPly(near))).toBeUndefined();
    expect(await bodiesOf('a.obj', obj(near))).toBeUndefined();
  });
});

describe('several files at once', () => {
  it('are one mesh with a body each, in their own units', async () => {
    const sources = [
      asSource('foot.stl', binaryStl(triangleCorners(near))),
      asSource('head.3mf', threeMf(far, 'unit="inch"')),
      asSource('hat.glb', glb(gltfDraft(box([200, 0, 0], [300, 100, 100])))),
    ];
    const result = await readMeshes(sources, { scale: 2 });
    expect(result).toMatchObject({ format: 'stl', unit: 'mm', declaredUnit: null });
    expect(result.bodies).toEqual([
      { name: 'foot', triangleCount: 12 },
      { name: 'solid', triangleCount: 12 },
      { name: 'solid', triangleCount: 12 },
    ]);
    const { min, max } = boundsOf(result.mesh);
    expect(min.map((v, k) => v + result.originMm[k])).toEqual([0, 0, 0]);
    expect(max[0] + result.originMm[0]).toBeCloseTo(600, 3);
    const volume = 8 * (1 + 8 * 25.4 ** 3 + 1e6);
    expect(plainVolume(result.mesh) / volume).toBeCloseTo(1, 6);
  });

  it('may have materials and pictures beside them, which are passed over', async () => {
    const sources = [
      asSource('a.mtl', 'newmtl clay\n'),
      asSource('a.obj', `mtllib a.mtl\n${obj(near)}`),
      asSource('clay.png', Uint8Array.from([0x89, 0x50, 0x4e, 0x47])),
    ];
    const result = await readMeshes(sources, { scale: 1 });
    expect(result).toMatchObject({ format: 'obj' });
    expect(result.mesh.triangles).toHaveLength(36);
  });

  it('are refused by the one that is wrong', async () => {
    const good = asSource('good.stl', binaryStl(triangleCorners(near)));
    await expect(
      readMeshes([good, asSource('letter.txt', 'Dear captain')], { scale: 1 }),
    ).rejects.toMatchObject({
      code: 'format-unknown',
      facts: { file: 'letter.txt' },
    });
    await expect(
      readMeshes([asSource('a.mtl', utf8('newmtl x')), asSource('b.bin', 'x')], { scale: 1 }),
    ).rejects.toMatchObject({
      code: 'format-unknown',
    });
  });

  it('let go of every file, read or not', async () => {
    let open = 0;
    const watched = (name: string, file: string | Uint8Array) => {
      const source = asSource(name, file);
      async function* chunks() {
        open++;
        try {
          yield* source.chunks();
        } finally {
          open--;
        }
      }
      return { ...source, chunks };
    };
    await readMeshes([watched('a.obj', obj(near)), watched('a.mtl', 'newmtl x')], { scale: 1 });
    await expect(readMeshes([watched('a.txt', 'Dear captain')], { scale: 1 })).rejects.toThrow();
    await expect(readMeshes([watched('a.obj', 'v 0 0 0\nf 1 2 3\n')], { scale: 1 })).rejects.toThrow();
    expect(open).toBe(0);
  });
});

describe('UTF-16 text', () => {
  it('is not seen in a binary STL whose header is in such letters', async () => {
    const header = Buffer.from('exported by a program of wide letters', 'utf16le').toString('latin1');
    const file = binaryStl(triangleCorners(near), '');
    file.set(Buffer.from(header, 'latin1').subarray(0, 80));
    const { format, mesh } = await readMesh(asSource('a.stl', file), { scale: 1 });
    expect([format, mesh.triangles.length]).toEqual(['stl', 36]);
  });

  it.each(['solid.obj', 'text.stl', 'text.ply'])('is read like any other: %s', async (name) => {
    const text = { 'solid.obj': obj(near), 'text.stl': textStl(near), 'text.ply': textPly(near) }[name] ?? '';
    for (const mark of ['\ufeff', '']) {
      const bytes = Buffer.from(mark + text, 'utf16le');
      const { mesh } = await readMesh(asSource(name, new Uint8Array(bytes)), { scale: 1 });
      expect(mesh.triangles).toHaveLength(36);
      const swapped = await readMesh(asSource(name, new Uint8Array(bytes.swap16())), { scale: 1 });
      expect(swapped.mesh.triangles).toHaveLength(36);
    }
  });
});
