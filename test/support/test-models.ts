import { readdirSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { type ByteSource, memorySource } from '../../src/io/bytes/source.ts';
import { obtainPackages } from './debian-package.ts';

/** Small meshes, sound and unsound, from a Debian package of test models: for tests alone, never in the repository. */

const MODELS = 'usr/share/assimp/models';
const MESH = /\.(stl|obj|ply|off|3mf|gltf|glb)$/i;

export interface TestModel {
  /** Path within the package's models. */
  path: string;
  /** Where it lies on disk. */
  file: string;
  /** The mesh, and the buffers that lie in its folder. */
  sources: ByteSource[];
}

/** Every model in a format that is read, or the reason why they cannot be had. */
export function obtainTestModels(): { models: TestModel[] } | { missing: string } {
  const obtained = obtainPackages('test-models', ['assimp-testmodels']);
  if ('missing' in obtained) return obtained;
  const root = join(obtained.folder, MODELS);
  const paths = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((path) => MESH.test(path));
  return {
    models: paths.sort().map((path) => ({
      path,
      file: join(root, path),
      sources: sourcesOf(join(root, path)),
    })),
  };
}

function sourcesOf(path: string): ByteSource[] {
  const buffers = /\.gltf$/i.test(path)
    ? readdirSync(dirname(path)).filter((name) => name.endsWith('.bin'))
    : [];
  return [basename(path), ...buffers].map((name) =>
    memorySource(name, readFileSync(join(dirname(path), name))),
  );
}
