import { PegwrightError } from '../../errors.ts';
import { LIMITS } from '../../model/limits.ts';
import { checkUnpacked, type Feed, malformed, truncated, unknownFeature } from '../bytes/feed.ts';
import { gather } from '../bytes/gather.ts';
import { IO_TUNING } from '../tuning.ts';
import type { GltfJson, GltfObject } from './json.ts';

/** A run of a buffer's bytes and the step from element to element that it asks for, null for none. */
export interface BufferView {
  bytes: Uint8Array;
  stride: number | null;
}

const MESHOPT: readonly string[] = ['EXT_meshopt_compression', 'KHR_meshopt_compression'];
const MODES: readonly unknown[] = ['ATTRIBUTES', 'TRIANGLES', 'INDICES'];
const FILTERS: readonly unknown[] = [undefined, 'NONE', 'OCTAHEDRAL', 'QUATERNION', 'EXPONENTIAL'];

/**
 * The bytes a glTF's JSON speaks of: in the GLB itself, in data URIs, or in files handed over beside it. Each is
 * read when it is first asked for; nothing is ever fetched.
 */
export class GltfBuffers {
  readonly #feed: Feed;
  readonly #json: GltfJson;
  readonly #embedded: Uint8Array | null;
  readonly #buffers = new Map<number, Promise<Uint8Array>>();
  readonly #views = new Map<number, Promise<BufferView>>();
  #unpacked = 0;

  /** @param embedded the binary chunk of a GLB */
  constructor(feed: Feed, json: GltfJson, embedded: Uint8Array | null) {
    this.#feed = feed;
    this.#json = json;
    this.#embedded = embedded;
  }

  /** A buffer view's bytes, unpacked where meshopt packed them. */
  view(index: number): Promise<BufferView> {
    return cached(this.#views, index, () => this.#readView(this.#json.entry('bufferViews', index)));
  }

  async #readView(view: GltfObject): Promise<BufferView> {
    for (const name of MESHOPT) {
      const packed = this.#json.extension(view, name);
      if (packed !== null) return this.#unpack(packed);
    }
    return { bytes: await this.#slice(view), stride: this.#json.wholeOrNull(view, 'byteStride') };
  }

  /** The bytes that an object names by buffer, offset and length. */
  async #slice(run: GltfObject): Promise<Uint8Array> {
    const index = this.#json.whole(run, 'buffer');
    const buffer = await cached(this.#buffers, index, () => this.#readBuffer(index));
    const start = this.#json.whole(run, 'byteOffset', 0);
    const end = start + this.#json.whole(run, 'byteLength');
    if (end > buffer.length) throw truncated(this.#feed, end, buffer.length, 'buffer-bytes');
    return buffer.subarray(start, end);
  }

  /** EXT_meshopt_compression, of which a byte cannot unpack to more than `meshoptRatio`. */
  async #unpack(packed: GltfObject): Promise<BufferView> {
    const source = await this.#slice(packed);
    const count = this.#json.whole(packed, 'count');
    const stride = this.#json.whole(packed, 'byteStride');
    const { mode, filter } = packed;
    const length = count * stride;
    this.#unpacked += length;
    checkUnpacked(this.#feed.file, this.#unpacked);
    const isLie = stride === 0 || stride > 256 || length > source.length * IO_TUNING.meshoptRatio;
    if (isLie || !MODES.includes(mode) || !FILTERS.includes(filter)) throw this.#damaged();
    const { MeshoptDecoder } = await import('meshoptimizer/decoder');
    await MeshoptDecoder.ready;
    const bytes = new Uint8Array(length);
    try {
      MeshoptDecoder.decodeGltfBuffer(
        bytes,
        count,
        stride,
        source,
        mode as string,
        filter as string | undefined,
      );
    } catch {
      throw this.#damaged();
    }
    return { bytes, stride };
  }

  #damaged() {
    return malformed(this.#feed, { is: 'meshopt-damaged' });
  }

  async #readBuffer(index: number): Promise<Uint8Array> {
    const buffer = this.#json.entry('buffers', index);
    const promised = this.#json.whole(buffer, 'byteLength');
    const bytes = await this.#bytesOf(this.#json.text(buffer, 'uri'), index);
    if (bytes.length < promised) throw truncated(this.#feed, promised, bytes.length, 'buffer-bytes');
    return bytes;
  }

  #bytesOf(uri: string | null, index: number): Uint8Array | Promise<Uint8Array> {
    if (uri === null) {
      if (this.#embedded === null || index !== 0) throw malformed(this.#feed, { is: 'buffer-empty' });
      return this.#embedded;
    }
    const data = /^data:[^,]*,/i.exec(uri.slice(0, 200))?.[0];
    return data === undefined ? this.#besideNamed(uri) : this.#fromData(data, uri.slice(data.length));
  }

  #fromData(lead: string, content: string): Uint8Array {
    if (!/;base64,$/i.test(lead)) throw unknownFeature(this.#feed, { is: 'data-uri' });
    try {
      const text = atob(content);
      const bytes = new Uint8Array(text.length);
      for (let i = 0; i < text.length; i++) bytes[i] = text.charCodeAt(i);
      return bytes;
    } catch {
      throw malformed(this.#feed, { is: 'data-uri-damaged' });
    }
  }

  /** A file handed over beside, told by the last step of its path alone. */
  #besideNamed(uri: string): Promise<Uint8Array> {
    const { file, beside } = this.#feed;
    const names = [uri, decoded(uri)].map((path) => path.replace(/^.*[\\/]/, ''));
    const source = beside.find(({ name }) => names.includes(name));
    if (source === undefined)
      throw new PegwrightError('file-beside-missing', { file, needs: names[1].slice(0, 80) });
    checkUnpacked(source.name, Math.min(source.byteLength, LIMITS.unpackedBytes + 1));
    return gather(source.name, source.chunks());
  }
}

function decoded(uri: string): string {
  try {
    return decodeURIComponent(uri);
  } catch {
    return uri;
  }
}

function cached<T>(known: Map<number, Promise<T>>, index: number, make: () => Promise<T>): Promise<T> {
  const made = known.get(index) ?? make();
  known.set(index, made);
  return made;
}
