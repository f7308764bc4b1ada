import { existsSync, mkdirSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { stampOf } from '../stamp.mjs';

/**
 * The command line as a bundle, which starts in a fraction of the time that its sources take through a loader of
 * TypeScript. Each state of the sources has a folder of its own, which appears whole: commands that run at once
 * never see half of one.
 */

const root = resolve(import.meta.dirname, '../..');
const bundles = join(root, 'dist/cli');
/** Packages that bring WebAssembly find it beside their own code, so they stay outside. */
const WITH_WASM = ['manifold-3d', 'draco3dgltf', 'meshoptimizer'];
/** A bundle of earlier sources is kept this long, ms: a command that began with it may still load of it. */
const KEPT_MS = 3_600_000;

/** Path of the bundle of the sources as they are, made where there is none. */
export async function freshBundle() {
  const folder = join(bundles, stampOf('src'));
  const main = join(folder, 'main.js');
  if (!existsSync(main)) await makeBundle(folder);
  return main;
}

async function makeBundle(folder) {
  const { build } = await import('vite');
  const making = `${folder}.${process.pid}`;
  await build({
    root,
    configFile: false,
    logLevel: 'warn',
    ssr: { noExternal: true, external: WITH_WASM },
    build: {
      ssr: true,
      outDir: making,
      target: 'node20',
      copyPublicDir: false,
      rolldownOptions: {
        input: { main: 'src/cli/main.ts', 'kernel-entry': 'src/worker/node/kernel-entry.ts' },
        // All in one folder: a thread's entry is found beside whatever asks for it.
        output: { entryFileNames: '[name].js', chunkFileNames: '[name]-[hash].js' },
      },
    },
  });
  mkdirSync(bundles, { recursive: true });
  try {
    renameSync(making, folder);
  } catch (thrown) {
    rmSync(making, { recursive: true, force: true });
    // Another command was quicker.
    if (!existsSync(folder)) throw thrown;
  }
  for (const name of readdirSync(bundles)) {
    const old = join(bundles, name);
    if (old !== folder && Date.now() - statSync(old).mtimeMs > KEPT_MS)
      rmSync(old, { recursive: true, force: true });
  }
}

if (process.argv[1] === import.meta.filename) await freshBundle();
