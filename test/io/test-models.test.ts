import { getBounds, NodeIO } from '@gltf-transform/core';
import { ALL_EXTENSIONS } from '@gltf-transform/extensions';
import draco from 'draco3dgltf';
import { describe, expect, it } from 'vitest';
import { type ErrorRecord, toErrorRecord } from '../../src/errors.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import { inEnglish } from '../support/in-english.ts';
import { obtainTestModels } from '../support/test-models.ts';

/** Every mesh of Debian's assimp-testmodels 5.2.5 in our formats: it comes in, or one true sentence refuses it. */

const obtained = obtainTestModels();
if ('missing' in obtained) console.warn(`The test models cannot be had: ${obtained.missing}`);
const models = 'models' in obtained ? obtained.models : [];

/** What is refused and why, each looked at by hand; all others come in. */
const REFUSED: Readonly<Record<string, RegExp>> = {
  // "3.1+e2" is written in it on purpose.
  'OBJ/number_formats.obj': /“?"3\.1\+e2" is not a number in line 11/,
  'OBJ/point_cloud.obj': /no triangles/,
  'OBJ/testline.obj': /no triangles/,
  'OBJ/testpoints.obj': /no triangles/,
  'OFF/invalid.off': /a number is missing in line 7/,
  // Its vertices have the faces' list, and there are no faces.
  'PLY/issue623.ply': /a number is missing in line 13/,
  'PLY/points.ply': /no triangles/,
  // 285 bytes of header and 70\u202f051 × 31 of vertices are more than it has.
  'PLY/pond.0.ply': /promises 70\u202f051 vertex items and holds 70\u202f048/,
  'glTF/BoxTextured-glTF-Binary/BoxTextured.glb': /version 1 /,
  'glTF/BoxTextured-glTF-Embedded/BoxTextured.gltf': /version 1\.0 /,
  'glTF/BoxTextured-glTF-MaterialsCommon/BoxTextured.gltf': /version 1\.0 /,
  'glTF/BoxTextured-glTF/BoxTextured.gltf': /version 1\.0 /,
  'glTF/CesiumMilkTruck/CesiumMilkTruck.gltf': /version 1 /,
  'glTF/IncorrectVertexArrays/Cube_v1.gltf': /version 1\.0 /,
  'glTF/TwoBoxes/TwoBoxes.gltf': /version 1\.0 /,
  'glTF2/BoxTextured-glTF-techniqueWebGL/BoxTextured.gltf': /extension KHR_technique_webgl/,
  'glTF2/BoxWithInfinites-glTF-Binary/BoxWithInfinites.glb': /24 coordinates cannot be a place/,
  // 35 corners without indices.
  'glTF2/IncorrectVertexArrays/Cube.gltf': /do not come in threes/,
  'glTF2/IndexOutOfRange/AllIndicesOutOfRange.gltf': /no vertex 65535/,
  'glTF2/IndexOutOfRange/IndexOutOfRange.gltf': /no vertex 255/,
  'glTF2/MissingBin/BoxTextured.gltf': /“BoxTextured0\.bin”, which was not given/,
  'glTF2/RecursiveNodes/RecursiveNodes.gltf': /node 0 hangs from itself/,
  'glTF2/SchemaFailures/sceneWrongType.gltf': /“scene” is no whole number/,
  'glTF2/TestNoRootNode/NoScene.gltf': /no triangles/,
  'glTF2/TestNoRootNode/SceneWithoutNodes.gltf': /no triangles/,
  // Points and lines.
  ...Object.fromEntries(
    ['00', '01', '02', '03', '07', '08', '09', '10'].map((n) => [
      `glTF2/glTF-Asset-Generator/Mesh_PrimitiveMode/Mesh_PrimitiveMode_${n}.gltf`,
      /no triangles/,
    ]),
  ),
  'glTF2/wrongTypes/badArray.gltf': /“primitives” is no list/,
  'invalid/OutOfMemory.off': /promises 353\u202f535\u202f235\u202f358 vertices and holds 14/,
  'invalid/empty.obj': /is empty/,
  'invalid/empty.off': /is empty/,
  'invalid/empty.ply': /is empty/,
  'invalid/malformed.obj': /no vertex 0 in line 28/,
};

/** No model here is large: the largest has 120,000 triangles. */
const MEMORY_BYTES = 800e6;

type Outcome = { path: string; bytes: number } & ({ sculpt: Sculpt } | { refusal: ErrorRecord });

async function outcomeOf({ path, sources }: (typeof models)[number]): Promise<Outcome> {
  const before = process.memoryUsage();
  const held = () => {
    const now = process.memoryUsage();
    return now.heapUsed + now.arrayBuffers - before.heapUsed - before.arrayBuffers;
  };
  try {
    const sculpt = await openSculpt(sources, { scale: 1 });
    return { path, bytes: held(), sculpt };
  } catch (thrown) {
    return { path, bytes: held(), refusal: toErrorRecord(thrown) };
  }
}

describe.skipIf('missing' in obtained)('the models of assimp-testmodels', () => {
  const outcomes: Outcome[] = [];

  it('come in or are refused, each in bounded memory', async () => {
    for (const model of models) outcomes.push(await outcomeOf(model));
    expect(outcomes.length).toBeGreaterThan(100);
    for (const { path, bytes } of outcomes) expect(bytes, path).toBeLessThan(MEMORY_BYTES);
    const counts = new Map<string, [accepted: number, refused: number]>();
    for (const outcome of outcomes) {
      const kind = outcome.path.replace(/^.*\./, '').toLowerCase();
      const count = counts.get(kind) ?? [0, 0];
      count['sculpt' in outcome ? 0 : 1]++;
      counts.set(kind, count);
    }
    const told = [...counts].map(([kind, [accepted, refused]]) => `${kind} ${accepted}/${refused}`);
    console.info(`test models, accepted/refused: ${told.join(', ')}`);
  });

  it('are refused with the sentences that are true of them, and no others are', () => {
    const refusals = new Map(
      outcomes.flatMap((o) => ('refusal' in o ? [[o.path, inEnglish.refusal(o.refusal)]] : [])) as [
        string,
        string,
      ][],
    );
    expect([...refusals.keys()].sort()).toEqual(Object.keys(REFUSED).sort());
    for (const [path, sentence] of refusals) expect(sentence, path).toMatch(REFUSED[path]);
  });

  /** The same figure in several files; sizes by their own records. */
  const sizeOf = (path: string) => {
    const found = outcomes.find((outcome) => outcome.path === path);
    if (found === undefined || !('sculpt' in found)) throw new Error(`${path} did not come in`);
    const { min, max } = found.sculpt.boundsMm;
    return { size: max.map((v, k) => v - min[k]), triangles: found.sculpt.read.triangles };
  };

  it('are as large as one another where they show one figure', () => {
    const paths = ['OBJ/WusonOBJ.obj', 'OFF/Wuson.off', 'PLY/Wuson.ply', 'STL/Wuson.stl'];
    const [first, ...others] = paths.map(sizeOf);
    for (const { size, triangles } of others) {
      expect(triangles).toBe(first.triangles);
      for (const [k, v] of size.entries()) expect(v).toBeCloseTo(first.size[k], 4);
    }
    // The engine of two cylinders, plain and with Draco compression, which is coarser.
    const engine = sizeOf('glTF2/2CylinderEngine-glTF-Binary/2CylinderEngine.glb').size;
    for (const [k, v] of sizeOf('glTF2/draco/2CylinderEngine.gltf').size.entries()) {
      expect(Math.abs(v / engine[k] - 1)).toBeLessThan(2e-4);
    }
    // Box of 1 × 1 × 1 m in four ways of packing; box.3mf says 10 × 20 × 30 mm itself.
    for (const path of [
      '-glTF/BoxTextured.gltf',
      '-glTF-Embedded/BoxTextured.gltf',
      '-glTF-Binary/BoxTextured.glb',
    ]) {
      expect(sizeOf(`glTF2/BoxTextured${path}`)).toEqual({ size: [1000, 1000, 1000], triangles: 12 });
    }
    expect(sizeOf('3MF/box.3mf')).toEqual({ size: [10, 20, 30], triangles: 12 });
  });

  it('lie where a library of glTF has them, turned upright', async () => {
    const io = new NodeIO()
      .registerExtensions(ALL_EXTENSIONS)
      .registerDependencies({ 'draco3d.decoder': await draco.createDecoderModule({}) });
    let compared = 0;
    for (const { path, file } of models) {
      const found = outcomes.find((outcome) => outcome.path === path);
      if (!/\.(gltf|glb)$/i.test(path) || found === undefined || !('sculpt' in found)) continue;
      const document = await io.read(file).catch(() => null);
      const scene = document?.getRoot().getDefaultScene() ?? document?.getRoot().listScenes()[0];
      // It bounds skinned meshes as if they were none.
      if (!document || !scene || document.getRoot().listSkins().length > 0) continue;
      const { min, max } = getBounds(scene);
      const wanted = { min: [min[0], -max[2], min[1]], max: [max[0], -min[2], max[1]] };
      for (const end of ['min', 'max'] as const) {
        for (const [k, v] of wanted[end].entries()) {
          const slack = 1e-5 * Math.max(1, ...max.map((high, i) => high - min[i])) * 1000;
          expect(Math.abs(found.sculpt.boundsMm[end][k] - v * 1000), path).toBeLessThan(slack);
        }
      }
      compared++;
    }
    expect(compared).toBeGreaterThan(15);
  });
});
