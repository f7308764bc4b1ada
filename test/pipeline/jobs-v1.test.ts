import { createHash } from 'node:crypto';
import { copyFileSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { readJob } from '../../src/pipeline/read-job.ts';
import { lumpySphere } from '../support/figures.ts';
import { runCommand } from '../support/run-command.ts';
import { legged } from '../support/simple-solids.ts';

/**
 * Jobs as version 1 had them go on giving the parts they gave. The sums are SHA-256 of the part files that the last
 * engine of version 1 wrote for them.
 */
const PARTS: { job: string; about: string; sums: Record<string, string> }[] = [
  {
    job: 'demo',
    about: 'the demo’s',
    sums: {
      'heron-head.stl': 'af3d4ea6332a3f3787d3db8c332bdc0454df122501f678789f9ce0b733067927',
      'heron-post.stl': '4b82e4771a51a761ddaa51b6fb544bf844ba2bb66346cd23d7a8870890861bd1',
    },
  },
  {
    job: 'tree',
    about: 'four seams, each but the first through a part of another',
    sums: {
      'lumpy-lower-front.stl': 'dbab207abbc20e466d5472925ce031124f9cb9eb9370ed788598da525cb56869',
      'lumpy-toe-back.stl': '66106c362ac06d180275af735c7f4b031ae85f212fb421f5da42a0d6142932b6',
      'lumpy-toe-front.stl': '4f9450f97a7cac36e5eea5fb9919b0856db4d746e174f1339c2d3249e8d8f108',
      'lumpy-upper-back.stl': 'eade05c09de098aba6030ce0d05b9a5fc3de1d4a09d2a9177162aa1db881d9a7',
      'lumpy-upper-front.stl': 'ea8c9c0aa77796f0a54d75b474db3e4887a7d4b0ea5d6fb386d12ed2f3ca4342',
    },
  },
  {
    job: 'auto',
    about: 'three pegs left to the engine',
    sums: {
      'lumpy-neck-back.stl': 'eddfe54f3468643349c34aeb0150edb458a1e69953377705096976d16ef7efa8',
      'lumpy-neck-front.stl': '85ee9c49ebfe4206bf6b9a092127bc81ab7f7ddc8822f4cc675fa5a53a2dfe6c',
    },
  },
  {
    job: 'spun',
    about: 'pegs turned about their axes with gaps of their own',
    sums: {
      'lumpy-neck-back.stl': 'a6910d6f1120428cbf7adaa2ad0b42694b442c4a6457ec9820f33db23e3aae9c',
      'lumpy-neck-front.stl': 'ae96d6da5e040acba34fcffe852e15a07244cf145ff3cd88df3d427f05324398',
    },
  },
  {
    job: 'front',
    about: 'pegs on the front, one of them out of its face by the kernel',
    sums: {
      'lumpy-neck-back.stl': '39d40f4dc65a649cedf7e96a43a6b3414ae173092d54466d444837c5d5f1216b',
      'lumpy-neck-front.stl': '63f58d24b60872a2f544251d73f24a3f6924f0244cd490b4d318ae393d9e69ed',
    },
  },
  {
    job: 'overlapping',
    about: 'pegs that run into each other',
    sums: {
      'lumpy-neck-back.stl': '5315c5632e8b8d077121a91c6e695bf717b44862bbcc866d580786b60ae4344b',
      'lumpy-neck-front.stl': '5b8fd975da08f3e8a8e4a47da5680886d49aa69324c4c972a93dcb8ffa40cff2',
    },
  },
  {
    job: 'through',
    about: 'a seam with a point on each of its outlines',
    sums: {
      'table-feet.stl': 'b7d8cf2cf42285c5159015f7e1704634e4fefdb2b836ff22a5199e2853f63a8c',
      'table-top.stl': 'ef07012da08ddfd1775d397e29522f8c55570ee957a66a58ef85561b7dc48ef3',
    },
  },
];

const here = import.meta.dirname;
const jobs = resolve(here, '../support/jobs-v1');

describe('a job of version 1', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegwright version 1 '));
  beforeAll(() => {
    writeFileSync(join(folder, 'lumpy.stl'), writeStlBinary(lumpySphere(8, 18, 3, 0.25), [0, 0, 0]));
    writeFileSync(join(folder, 'table.stl'), writeStlBinary(legged(), [0, 0, 0]));
    copyFileSync(resolve(here, '../../public/demo/heron.ply.gz'), join(folder, 'heron.ply.gz'));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  /** What `make` writes for a job, by the files' names. */
  async function sumsOf(name: string, document: unknown): Promise<Record<string, string>> {
    const [path, out] = [join(folder, `${name}.json`), join(folder, name)];
    writeFileSync(path, JSON.stringify(document));
    const { complaints } = await runCommand(['make', path, '--out', out]);
    expect(complaints).toEqual([]);
    const files = readdirSync(out).filter((file) => file.endsWith('.stl'));
    return Object.fromEntries(
      files.map((file) => [
        file,
        createHash('sha256')
          .update(readFileSync(join(out, file)))
          .digest('hex'),
      ]),
    );
  }

  it('is there to be opened for every row, and no row is missing', () => {
    expect(PARTS.map(({ job }) => `${job}.json`).sort()).toEqual(readdirSync(jobs).sort());
  });

  for (const { job, about, sums } of PARTS) {
    it(`gives the same parts byte for byte, and opens to the same once saved as version 2: ${about}`, async () => {
      const document = JSON.parse(readFileSync(join(jobs, `${job}.json`), 'utf8')) as { version: number };
      expect(document.version).toBe(1);
      expect(await sumsOf(job, document)).toEqual(sums);
      const opened = readJob(job, document);
      const saved: unknown = JSON.parse(JSON.stringify(opened));
      expect(saved).toMatchObject({ version: 2 });
      expect(readJob(job, saved)).toEqual(opened);
    }, 120_000);
  }
});
