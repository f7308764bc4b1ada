import { constants, crc32, deflateRawSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { LIMITS } from '../../src/model/limits.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { fuzzSubjects } from '../support/fuzz-subjects.ts';
import { asSource, dripSource, everyFormat, gzipped, utf8 } from '../support/mesh-files.ts';
import { cut, flip, randomBelow, splice } from '../support/mutations.ts';
import { modelXml, packageFiles } from '../support/scene-files.ts';
import { frustum } from '../support/simple-solids.ts';
import { streamedBytes } from '../support/streamed-bytes.ts';

const RUNS = 200;
/** No damage may make more of a file than so many triangles for each of its bytes. */
const TRIANGLES_A_BYTE = 1;
/** Nor may all of one kind together leave more behind, bytes. */
const MEMORY = 600e6;

async function outcomeOf(bytes: Uint8Array, size: number): Promise<string> {
  try {
    const { mesh, read } = await openSculpt(dripSource('fuzzed', bytes, size), { scale: 1 });
    expect(read.triangles).toBeLessThanOrEqual(bytes.length * TRIANGLES_A_BYTE);
    expect(mesh.triangles.every((v) => v < mesh.positions.length / 3)).toBe(true);
    expect(mesh.positions.every(Number.isFinite)).toBe(true);
    return 'opened';
  } catch (error) {
    if (error instanceof PegwrightError) return error.code;
    throw error;
  }
}

const subjects = await fuzzSubjects();

describe('damaged files end in a mesh or in a refusal', () => {
  it.each(subjects.map((subject) => [subject.name, subject] as const))(
    `%s, ${RUNS} mutations from seed 41`,
    async (_, { bytes, mutation }) => {
      const below = randomBelow(41);
      const outcomes = new Map<string, number>();
      const before = process.memoryUsage();
      for (let run = 0; run < RUNS; run++) {
        const mutated = mutation(bytes, below);
        const outcome = await outcomeOf(mutated, 1 + below(bytes.length < 5000 ? 400 : 20_000));
        outcomes.set(outcome, (outcomes.get(outcome) ?? 0) + 1);
      }
      const after = process.memoryUsage();
      expect(after.heapUsed + after.external - before.heapUsed - before.external).toBeLessThan(MEMORY);
      // The mutations must reach past the first check: some files open, and refusals are of several kinds.
      expect(outcomes.get('opened')).toBeGreaterThan(RUNS / 50);
      expect(outcomes.size).toBeGreaterThan(3);
    },
    120_000,
  );

  it('packed files, 200 mutations from seed 43', async () => {
    const packed = await gzipped(everyFormat(frustum(4, 2, 6))[3][1]);
    const below = randomBelow(43);
    for (let run = 0; run < 200; run++) {
      const mutate = [cut, flip, splice][below(3)];
      await outcomeOf(mutate(packed, below), 1 + below(400));
    }
  }, 60_000);
});

/** Deflated line ends, `megabytes` long, that end a stream begun with `start`. */
function deflatedBlanks(start: Uint8Array, megabytes: number): Buffer {
  // A full flush ends on a whole byte, so that the same block can follow itself.
  const flushed = { finishFlush: constants.Z_FULL_FLUSH };
  const block = deflateRawSync(Buffer.alloc(1 << 20, 10), flushed);
  return Buffer.concat([deflateRawSync(start, flushed), ...Array(megabytes).fill(block), deflateRawSync('')]);
}

/** A package whose model part is `deflated`, said to be `size` bytes long. */
function bombPackage(deflated: Buffer, size: number): Uint8Array {
  const name = Buffer.from('3D/3dmodel.model');
  const rels = Buffer.from(packageFiles('')['_rels/.rels'] as string);
  const locals: Buffer[] = [];
  const lists: Buffer[] = [];
  let at = 0;
  const add = (path: Buffer, method: number, packed: Buffer, length: number, sum: number) => {
    const facts = Buffer.alloc(26);
    facts.writeUInt16LE(20, 0);
    facts.writeUInt16LE(method, 4);
    facts.writeUInt32LE(sum, 10);
    facts.writeUInt32LE(packed.length, 14);
    facts.writeUInt32LE(length, 18);
    facts.writeUInt16LE(path.length, 22);
    const list = Buffer.alloc(42);
    list.writeUInt16LE(20, 0);
    facts.copy(list, 2, 0, 24);
    list.writeUInt32LE(at, 38);
    locals.push(Buffer.from('PK\x03\x04'), facts, path, packed);
    lists.push(Buffer.from('PK\x01\x02'), list, path);
    at += 30 + path.length + packed.length;
  };
  add(Buffer.from('_rels/.rels'), 0, rels, rels.length, crc32(rels));
  add(name, 8, deflated, size, 0);
  const directory = Buffer.concat(lists);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 'latin1');
  end.writeUInt16LE(2, 8);
  end.writeUInt16LE(2, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(at, 16);
  return new Uint8Array(Buffer.concat([...locals, directory, end]));
}

describe('archives that unpack past all bounds', () => {
  const head = utf8(modelXml('', '').replace('</resources>', ''));
  const megabytes = Math.ceil(LIMITS.unpackedBytes / (1 << 20)) + 100;
  const deflated = deflatedBlanks(head, megabytes);
  const real = head.length + megabytes * (1 << 20);

  it('are refused at once when they say so', async () => {
    const bomb = bombPackage(deflated, real);
    expect(bomb.length).toBeLessThan(3e6);
    const streamed = await streamedBytes(() =>
      expect(openSculpt(asSource('bomb.3mf', bomb), { scale: 1 })).rejects.toMatchObject({
        code: 'file-unpacks-too-big',
        facts: { file: 'bomb.3mf', limit: LIMITS.unpackedBytes },
      }),
    );
    expect(streamed).toBeLessThanOrEqual(bomb.length);
  });

  it('are refused as soon as they unpack to more than they say', async () => {
    const bomb = bombPackage(deflated, 1_000_000);
    const before = process.memoryUsage().arrayBuffers;
    const streamed = await streamedBytes(() =>
      expect(openSculpt(asSource('bomb.3mf', bomb), { scale: 1 })).rejects.toMatchObject({
        code: 'file-malformed',
      }),
    );
    expect(streamed).toBeGreaterThan(100_000);
    expect(streamed).toBeLessThan(20_000_000);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(100e6);
  });

  it('are refused where gzip, which says nothing, has unpacked the limit; also around an archive', async () => {
    const stream = deflatedBlanks(utf8('OFF\n3 1 0\n'), megabytes);
    const zipped = Buffer.concat([
      Buffer.from([0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3]),
      stream,
      Buffer.alloc(8),
    ]);
    await expect(
      openSculpt(asSource('bomb.off.gz', new Uint8Array(zipped)), { scale: 1 }),
    ).rejects.toMatchObject({
      code: 'file-unpacks-too-big',
    });
    const nested = await gzipped(bombPackage(deflated, real));
    await expect(openSculpt(asSource('bomb.3mf.gz', nested), { scale: 1 })).rejects.toMatchObject({
      code: 'file-unpacks-too-big',
    });
  }, 60_000);
});
