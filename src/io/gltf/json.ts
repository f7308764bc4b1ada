import { type Feed, malformed } from '../bytes/feed.ts';

/** An object of a glTF's JSON, of which nothing is known yet. */
export type GltfObject = Readonly<Record<string, unknown>>;

/** Names of the lists a glTF is made of. */
export type GltfList = 'scenes' | 'nodes' | 'meshes' | 'skins' | 'accessors' | 'bufferViews' | 'buffers';

const isObject = (value: unknown): value is GltfObject =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A glTF's JSON, asked for one typed thing after another; whatever is not as it must be is `file-malformed`. */
export class GltfJson {
  readonly root: GltfObject;
  readonly #feed: Feed;

  /** @param text all of the JSON */
  constructor(feed: Feed, text: string) {
    this.#feed = feed;
    let root: unknown;
    try {
      root = JSON.parse(text);
    } catch {
      throw malformed(feed, { is: 'description-not-json' });
    }
    if (!isObject(root)) throw malformed(feed, { is: 'description-not-object' });
    this.root = root;
  }

  /** How many objects a list has. */
  countOf(list: GltfList): number {
    return this.#listOf(this.root, list).length;
  }

  /** The object at a place of a list. */
  entry(list: GltfList, index: number): GltfObject {
    const found = this.#listOf(this.root, list)[index];
    if (!isObject(found)) throw malformed(this.#feed, { is: 'entry-missing', entry: index, list });
    return found;
  }

  /** The whole number from 0 that a field has; `missing` where there is no such field. */
  whole(object: GltfObject, field: string, missing?: number): number {
    const value = object[field] ?? missing;
    if (typeof value === 'number' && Number.isSafeInteger(value) && value >= 0) return value;
    throw malformed(this.#feed, { is: 'field-not-whole', field });
  }

  /** The same, null where there is no such field. */
  wholeOrNull(object: GltfObject, field: string): number | null {
    return object[field] === undefined ? null : this.whole(object, field);
  }

  /** The whole numbers from 0 that a field lists, none where there is no such field. */
  wholes(object: GltfObject, field: string): number[] {
    return this.#listOf(object, field).map((_, i, list) => this.whole({ [field]: list[i] }, field));
  }

  /** The finite numbers that a field lists; null where there is no such field. */
  numbers(object: GltfObject, field: string, count: number): number[] | null {
    if (object[field] === undefined) return null;
    const list = this.#listOf(object, field);
    if (list.length === count && list.every(Number.isFinite)) return list as number[];
    throw malformed(this.#feed, { is: 'field-not-numbers', field, count });
  }

  objects(object: GltfObject, field: string): readonly GltfObject[] {
    const list = this.#listOf(object, field);
    if (list.every(isObject)) return list;
    throw malformed(this.#feed, { is: 'field-not-objects', field });
  }

  /** The object in a field; null where there is no such field. */
  object(object: GltfObject, field: string): GltfObject | null {
    const value = object[field];
    if (value === undefined) return null;
    if (isObject(value)) return value;
    throw malformed(this.#feed, { is: 'field-not-object', field });
  }

  /** What an extension says about an object; null where it says nothing. */
  extension(object: GltfObject, name: string): GltfObject | null {
    const extensions = this.object(object, 'extensions');
    return extensions === null ? null : this.object(extensions, name);
  }

  /** The text in a field; null where there is none. */
  text(object: GltfObject, field: string): string | null {
    const value = object[field];
    return typeof value === 'string' && value !== '' ? value : null;
  }

  #listOf(object: GltfObject, field: string): readonly unknown[] {
    const list = object[field] ?? [];
    if (Array.isArray(list)) return list;
    throw malformed(this.#feed, { is: 'field-not-list', field });
  }
}
