import { LIMITS } from '../../model/limits.ts';
import { type Feed, malformed, truncated } from '../bytes/feed.ts';
import { IO_TUNING } from '../tuning.ts';
import type { GltfBuffers } from './buffers.ts';
import type { GltfJson, GltfObject } from './json.ts';

/** How one component is written: bytes, a reader, and what a whole one is when it is normalised (glTF 2.0, §3.6.2). */
interface Component {
  size: number;
  read(view: DataView, at: number): number;
  whole: number;
}

const COMPONENTS: Readonly<Record<number, Component>> = {
  5120: { size: 1, read: (view, at) => view.getInt8(at), whole: 127 },
  5121: { size: 1, read: (view, at) => view.getUint8(at), whole: 255 },
  5122: { size: 2, read: (view, at) => view.getInt16(at, true), whole: 32767 },
  5123: { size: 2, read: (view, at) => view.getUint16(at, true), whole: 65535 },
  5125: { size: 4, read: (view, at) => view.getUint32(at, true), whole: 1 },
  5126: { size: 4, read: (view, at) => view.getFloat32(at, true), whole: 1 },
};

const WIDTHS: Readonly<Record<string, number>> = { SCALAR: 1, VEC3: 3, VEC4: 4, MAT4: 16 };

/**
 * An accessor's numbers, `width` to an element: strided, sparse and normalised ones come out as plain numbers.
 * @param type such as "VEC3"; an accessor of another type is refused.
 */
export async function readAccessor(
  feed: Feed,
  json: GltfJson,
  buffers: GltfBuffers,
  index: number,
  type: keyof typeof WIDTHS,
): Promise<Float64Array> {
  const accessor = json.entry('accessors', index);
  const width = WIDTHS[type];
  if (accessor.type !== type) throw malformed(feed, { is: 'accessor-type', accessor: index, type });
  const component = COMPONENTS[json.whole(accessor, 'componentType')];
  if (component === undefined) throw malformed(feed, { is: 'accessor-component', accessor: index });
  const count = json.whole(accessor, 'count');
  const viewIndex = json.wholeOrNull(accessor, 'bufferView');
  const sparse = json.object(accessor, 'sparse');
  if (viewIndex === null && (sparse === null || count > IO_TUNING.zeroElements)) {
    throw malformed(feed, { is: 'accessor-empty', accessor: index });
  }
  const view = viewIndex === null ? null : await buffers.view(viewIndex);
  const rows: Rows = { count, width, component, start: json.whole(accessor, 'byteOffset', 0) };
  const values = view === null ? new Float64Array(count * width) : takeRows(feed, view, rows);
  if (sparse !== null) await putSparse(feed, json, buffers, sparse, values, rows);
  if (accessor.normalized === true) normalise(values, component.whole);
  return values;
}

interface Rows {
  count: number;
  width: number;
  component: Component;
  /** Byte of the first one. */
  start: number;
}

function takeRows(feed: Feed, view: { bytes: Uint8Array; stride: number | null }, rows: Rows): Float64Array {
  const { count, width, component, start } = rows;
  const { bytes } = view;
  const element = width * component.size;
  const stride = view.stride ?? element;
  const end = start + (count - 1) * stride + element;
  if (count > 0 && end > bytes.length) throw truncated(feed, end, bytes.length, 'view-bytes');
  if (stride < element) throw malformed(feed, { is: 'stride-short' });
  if (count > LIMITS.triangles * 3) throw malformed(feed, { is: 'accessor-too-long' });
  const data = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const values = new Float64Array(count * width);
  const { read, size } = component;
  for (let row = 0, dst = 0; row < count; row++) {
    const at = start + row * stride;
    for (let k = 0; k < width; k++) values[dst++] = read(data, at + k * size);
  }
  return values;
}

/** Puts the elements that a sparse accessor replaces. */
async function putSparse(
  feed: Feed,
  json: GltfJson,
  buffers: GltfBuffers,
  sparse: GltfObject,
  values: Float64Array,
  { count: all, width, component }: Rows,
): Promise<void> {
  const count = json.whole(sparse, 'count');
  const indices = json.object(sparse, 'indices') ?? {};
  const replaced = json.object(sparse, 'values') ?? {};
  const indexComponent = COMPONENTS[json.whole(indices, 'componentType')];
  if (indexComponent === undefined) throw malformed(feed, { is: 'sparse-component' });
  const places = takeRows(feed, await buffers.view(json.whole(indices, 'bufferView')), {
    count,
    width: 1,
    component: indexComponent,
    start: json.whole(indices, 'byteOffset', 0),
  });
  const rows = takeRows(feed, await buffers.view(json.whole(replaced, 'bufferView')), {
    count,
    width,
    component,
    start: json.whole(replaced, 'byteOffset', 0),
  });
  for (let i = 0; i < count; i++) {
    if (!(places[i] < all)) throw malformed(feed, { is: 'sparse-astray' });
    values.set(rows.subarray(i * width, (i + 1) * width), places[i] * width);
  }
}

/** Whole numbers as shares of the largest, none below −1 (glTF 2.0, §3.6.2.2). */
function normalise(values: Float64Array, whole: number): void {
  for (let i = 0; i < values.length; i++) values[i] = Math.max(values[i] / whole, -1);
}
