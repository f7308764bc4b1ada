import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { block, jobText, makeCliFolder } from '../support/cli-folder.ts';
import { libraryGlb } from '../support/compressed-glb.ts';
import { runCli } from '../support/run-cli.ts';
import { glb, gltfDraft, threeMf } from '../support/scene-files.ts';
import { box, fanned } from '../support/simple-solids.ts';

/** A verb loads what it needs and no more: seen from the modules its process really loads. */

const folder = makeCliFolder();
afterAll(() => folder.remove());
const file = folder.put('block.stl', block());

const recorder = pathToFileURL(resolve(import.meta.dirname, '../support/record-modules.ts')).href;
const root = pathToFileURL(resolve(import.meta.dirname, '../..')).href;

/** Packages and rooms of `src` that a call loads. */
async function loadedBy(...args: string[]): Promise<{ packages: string[]; rooms: string[] }> {
  const record = folder.put('modules.txt', '');
  const run = await runCli(args, { hooks: [recorder], env: { RECORD_MODULES_IN: record } });
  expect(run.exitCode).toBe(0);
  const urls = readFileSync(record, 'utf8').split('\n');
  const namesIn = (pattern: RegExp) =>
    [...new Set(urls.flatMap((url) => pattern.exec(url)?.[1] ?? []))].sort();
  return {
    packages: namesIn(/\/node_modules\/((?:@[^/]+\/)?[^/]+)/).filter((name) => name !== 'tsx'),
    rooms: namesIn(new RegExp(`^${root}/src/([^/?]+)`)),
  };
}

describe('starting', () => {
  it('inspect loads no package at all, and neither kernel nor joints', async () => {
    const { packages, rooms } = await loadedBy('inspect', file);
    expect(packages).toEqual([]);
    expect(rooms).toEqual(expect.arrayContaining(['cli', 'io', 'mesh']));
    for (const room of ['kernel', 'joint', 'seam', 'section', 'handoff', 'worker', 'demo']) {
      expect(rooms).not.toContain(room);
    }
  });

  it('inspect loads what a format needs when a file has it', async () => {
    const scene = folder.put('block.glb', glb(gltfDraft(box([0, 0, 0], [20, 16, 30]))));
    expect((await loadedBy('inspect', scene)).packages).toEqual([]);
    const package3mf = folder.put('block.3mf', threeMf(box([0, 0, 0], [20, 16, 30])));
    expect((await loadedBy('inspect', package3mf)).packages).toEqual(['@zip.js/zip.js']);
    const packed = folder.put('packed.glb', await libraryGlb(fanned(box([0, 0, 0], [20, 16, 30])), 'draco'));
    expect((await loadedBy('inspect', packed)).packages).toEqual(['draco3dgltf']);
  });

  it('section loads no package at all, and neither kernel nor joints', async () => {
    const { packages, rooms } = await loadedBy('section', file, '--normal', '0,0,1', '--offset', '5');
    expect(packages).toEqual([]);
    expect(rooms).toEqual(expect.arrayContaining(['cli', 'io', 'mesh', 'pipeline']));
    for (const room of ['kernel', 'joint', 'handoff', 'worker', 'demo']) expect(rooms).not.toContain(room);
  });

  it('make loads the kernel and the schema, and nothing of the page', async () => {
    const job = folder.put('job.json', jobText());
    const { packages, rooms } = await loadedBy('make', job, '--out', join(folder.path, 'parts'));
    // The triangulation comes in three packages; all are small.
    const triangulation = ['@kninnug/constrainautor', 'delaunator', 'robust-predicates'];
    expect(packages.sort()).toEqual([...triangulation, 'manifold-3d', 'zod'].sort());
    expect(rooms).toEqual(expect.arrayContaining(['cli', 'joint', 'kernel', 'pipeline']));
    for (const room of ['worker', 'demo', 'index.ts']) expect(rooms).not.toContain(room);
  });
});
