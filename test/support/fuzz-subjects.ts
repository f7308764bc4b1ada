import { libraryGlb } from './compressed-glb.ts';
import { lumpySphere } from './figures.ts';
import { everyFormat } from './mesh-files.ts';
import { type Mutation, mutate, mutateGlb, mutatePackage } from './mutations.ts';
import { everyScene } from './scene-files.ts';
import { frustum } from './simple-solids.ts';
import { obtainTestModels } from './test-models.ts';

/** A file to damage and how. */
export interface Subject {
  name: string;
  bytes: Uint8Array;
  mutation: Mutation;
}

const mutationOf = (name: string): Mutation =>
  name.endsWith('.3mf') ? mutatePackage : name.endsWith('.glb') ? mutateGlb : mutate;

/** Models of every format that other programs wrote, small enough to be read by the hundred. */
const REAL = [
  'STL/Spider_binary.stl',
  'STL/sphereWithHole.stl',
  'OBJ/cube_usemtl.obj',
  'OBJ/empty_mat.obj',
  'PLY/cube.ply',
  'PLY/cube_binary.ply',
  'OFF/Cube.off',
  '3MF/box.3mf',
  'glTF2/BoxTextured-glTF-Embedded/BoxTextured.gltf',
  'glTF2/BoxTextured-glTF-Binary/BoxTextured.glb',
];

/** Files written here, by libraries and, where they can be had, by other programs. */
export async function fuzzSubjects(): Promise<Subject[]> {
  const ours = [...everyFormat(frustum(4, 2, 6)), ...everyScene(frustum(4, 2, 6))];
  const small = lumpySphere(3, 9, 1);
  const packings = ['quantised', 'meshopt', 'draco'] as const;
  const libraries = await Promise.all(
    packings.map(
      async (packing): Promise<[string, Uint8Array]> => [`${packing}.glb`, await libraryGlb(small, packing)],
    ),
  );
  const obtained = obtainTestModels();
  if ('missing' in obtained) console.warn(`Only files of our own are damaged: ${obtained.missing}`);
  const models = 'models' in obtained ? obtained.models.filter(({ path }) => REAL.includes(path)) : [];
  const real = await Promise.all(
    models.map(async ({ path, sources }): Promise<[string, Uint8Array]> => [path, await bytesOf(sources[0])]),
  );
  return [...ours, ...libraries, ...real].map(([name, bytes]) => ({
    name,
    bytes,
    mutation: mutationOf(name),
  }));
}

async function bytesOf(source: { chunks(): AsyncIterable<Uint8Array> }): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of source.chunks()) chunks.push(chunk);
  return new Uint8Array(Buffer.concat(chunks));
}
