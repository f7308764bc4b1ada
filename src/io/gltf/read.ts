import { LIMITS } from '../../model/limits.ts';
import { type Affine, compose, IDENTITY } from '../build/affine.ts';
import { checkBodyCount, type Placed, placeAll } from '../build/place.ts';
import { type Feed, malformed, tooMany, unknownFeature } from '../bytes/feed.ts';
import { gather } from '../bytes/gather.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { readAccessor } from './accessor.ts';
import { GltfBuffers } from './buffers.ts';
import { takeApart } from './container.ts';
import { GltfJson, type GltfObject } from './json.ts';
import { readGltfMesh } from './mesh.ts';

/** glTF has +Y up and +Z to the front, here +Z is up: x, y, z become x, −z, y. */
const UPRIGHT: Affine = [1, 0, 0, 0, 0, 1, 0, -1, 0, 0, 0, 0];

/** Extensions that a file may require: those that are read, and those that change no shape. */
const UNDERSTOOD =
  /^(KHR_mesh_quantization|(EXT|KHR)_meshopt_compression|KHR_draco_mesh_compression|EXT_mesh_gpu_instancing|(KHR|EXT|MSFT)_(materials|texture|lights|animation|xmp|node_visibility).*)$/;

/** Reads the default scene of a glTF 2.0 or GLB file, a body for every node with a mesh; metres, turned upright. */
export async function readGltf(feed: Feed): Promise<RawMesh> {
  const { text, embedded } = takeApart(feed, await gather(feed.file, feed.pieces));
  const json = new GltfJson(feed, text);
  checkVersion(feed, json);
  const scene = new Scene(feed, json, new GltfBuffers(feed, json, embedded));
  return { ...placeAll(feed, await scene.placed()), unit: 'm' };
}

function checkVersion(feed: Feed, json: GltfJson): void {
  const { version } = json.object(json.root, 'asset') ?? {};
  if (version === undefined) throw malformed(feed, { is: 'version-missing' });
  if (!/^2\.\d+$/.test(String(version))) {
    throw unknownFeature(feed, { is: 'version', version: String(version).slice(0, 20) });
  }
  const { extensionsRequired: required } = json.root;
  for (const name of Array.isArray(required) ? required : []) {
    if (!UNDERSTOOD.test(String(name)))
      throw unknownFeature(feed, { is: 'extension', name: String(name).slice(0, 80) });
  }
}

/** The nodes of a scene, walked from its roots. */
class Scene {
  readonly #feed: Feed;
  readonly #json: GltfJson;
  readonly #buffers: GltfBuffers;
  readonly #meshes = new Map<number, Promise<RawMesh>>();
  /** Where each visited node stands in the scene. */
  readonly #worlds = new Map<number, Affine>();
  readonly #placed: Placed[] = [];

  constructor(feed: Feed, json: GltfJson, buffers: GltfBuffers) {
    this.#feed = feed;
    this.#json = json;
    this.#buffers = buffers;
  }

  async placed(): Promise<Placed[]> {
    for (const root of this.#roots()) this.#visit(root, UPRIGHT, 0);
    for (const [index, world] of this.#worlds) await this.#placeNode(index, world);
    const isHidden = this.#placed.length === 0 && this.#json.countOf('meshes') > 0;
    if (isHidden) throw malformed(this.#feed, { is: 'scene-empty' });
    return this.#placed;
  }

  /** Nodes of the default scene; without any scene, those that hang from no other. */
  #roots(): number[] {
    const json = this.#json;
    if (json.countOf('scenes') > 0)
      return json.wholes(json.entry('scenes', json.whole(json.root, 'scene', 0)), 'nodes');
    const nodes = Array.from({ length: json.countOf('nodes') }, (_, i) => i);
    const hanging = new Set(nodes.flatMap((i) => json.wholes(json.entry('nodes', i), 'children')));
    return nodes.filter((i) => !hanging.has(i));
  }

  #visit(index: number, outer: Affine, depth: number): void {
    if (depth > LIMITS.nesting) throw tooMany(this.#feed, 'levels');
    if (this.#worlds.has(index)) throw malformed(this.#feed, { is: 'node-shared', node: index });
    const node = this.#json.entry('nodes', index);
    const world = compose(this.#affineOf(node), outer);
    this.#worlds.set(index, world);
    for (const child of this.#json.wholes(node, 'children')) this.#visit(child, world, depth + 1);
  }

  async #placeNode(index: number, world: Affine): Promise<void> {
    const json = this.#json;
    const node = json.entry('nodes', index);
    const meshIndex = json.wholeOrNull(node, 'mesh');
    if (meshIndex === null) return;
    const reading = this.#meshes.get(meshIndex) ?? readGltfMesh(this.#feed, json, this.#buffers, meshIndex);
    this.#meshes.set(meshIndex, reading);
    const mesh = await reading;
    const name = json.text(node, 'name') ?? json.text(json.entry('meshes', meshIndex), 'name') ?? '';
    const skin = json.wholeOrNull(node, 'skin');
    const at = skin === null ? world : await this.#boundAt(json.entry('skins', skin));
    for (const copy of await this.#copies(node)) {
      checkBodyCount(this.#feed, this.#placed.length + 1);
      this.#placed.push({ name, mesh, at: compose(copy, at) });
    }
  }

  /**
   * Where a skinned mesh stands, unbent: its own node does not move it (glTF 2.0, §3.7.3.3), its joints do, and in
   * the pose it was bound in all of them do alike. So it goes as the first of them has it.
   */
  async #boundAt(skin: GltfObject): Promise<Affine> {
    const [joint] = this.#json.wholes(skin, 'joints');
    const world = joint === undefined ? undefined : this.#worlds.get(joint);
    if (world === undefined) return UPRIGHT;
    const inverse = this.#json.wholeOrNull(skin, 'inverseBindMatrices');
    if (inverse === null) return world;
    const numbers = await readAccessor(this.#feed, this.#json, this.#buffers, inverse, 'MAT4');
    return compose(columns(numbers.subarray(0, 16)), world);
  }

  /** Placements of EXT_mesh_gpu_instancing; where a node has none, it stands once. */
  async #copies(node: GltfObject): Promise<Affine[]> {
    const instancing = this.#json.extension(node, 'EXT_mesh_gpu_instancing');
    if (instancing === null) return [IDENTITY];
    const attributes = this.#json.object(instancing, 'attributes') ?? {};
    const read = async (name: string, type: 'VEC3' | 'VEC4') => {
      const index = this.#json.wholeOrNull(attributes, name);
      return index === null ? null : readAccessor(this.#feed, this.#json, this.#buffers, index, type);
    };
    const moves = await read('TRANSLATION', 'VEC3');
    const turns = await read('ROTATION', 'VEC4');
    const sizes = await read('SCALE', 'VEC3');
    const count = Math.min(
      ...[moves, sizes].flatMap((list) => (list ? [list.length / 3] : [])),
      turns ? turns.length / 4 : Infinity,
    );
    if (count === Infinity) return [IDENTITY];
    checkBodyCount(this.#feed, count);
    return Array.from({ length: count }, (_, i) =>
      posed(
        moves?.subarray(i * 3, i * 3 + 3) ?? NO_MOVE,
        turns?.subarray(i * 4, i * 4 + 4) ?? NO_TURN,
        sizes?.subarray(i * 3, i * 3 + 3) ?? NO_SIZE,
      ),
    );
  }

  #affineOf(node: GltfObject): Affine {
    const matrix = this.#json.numbers(node, 'matrix', 16);
    if (matrix !== null) return columns(matrix);
    return posed(
      this.#json.numbers(node, 'translation', 3) ?? NO_MOVE,
      this.#json.numbers(node, 'rotation', 4) ?? NO_TURN,
      this.#json.numbers(node, 'scale', 3) ?? NO_SIZE,
    );
  }
}

const NO_MOVE = [0, 0, 0];
const NO_TURN = [0, 0, 0, 1];
const NO_SIZE = [1, 1, 1];

/** A 4 × 4 matrix, column by column, without its last row. */
const columns = (m: ArrayLike<number>): Affine => [0, 1, 2, 4, 5, 6, 8, 9, 10, 12, 13, 14].map((i) => m[i]);

/** Scale, then turn by a unit quaternion x, y, z, w, then move. */
function posed(move: ArrayLike<number>, turn: ArrayLike<number>, size: ArrayLike<number>): Affine {
  const [x, y, z, w] = Array.from(turn);
  const [sx, sy, sz] = Array.from(size);
  return [
    sx * (1 - 2 * (y * y + z * z)),
    sx * 2 * (x * y + z * w),
    sx * 2 * (x * z - y * w),
    sy * 2 * (x * y - z * w),
    sy * (1 - 2 * (x * x + z * z)),
    sy * 2 * (y * z + x * w),
    sz * 2 * (x * z + y * w),
    sz * 2 * (y * z - x * w),
    sz * (1 - 2 * (x * x + y * y)),
    ...Array.from(move),
  ];
}
