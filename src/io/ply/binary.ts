import type { ByteCursor } from '../bytes/cursor.ts';
import { type Feed, malformed, truncated } from '../bytes/feed.ts';
import type { RawMesh } from '../raw-mesh.ts';
import type { PlyElement, PlyHeader, PlyProperty, Scalar } from './header.ts';
import { PlySink, type Role, roleOf } from './sink.ts';

/** Reads the body of a binary PLY: items back to back, each its properties back to back. */
export async function readPlyBinary(feed: Feed, header: PlyHeader, cursor: ByteCursor): Promise<RawMesh> {
  const sink = new PlySink(feed, header);
  const reader = new ItemReader(cursor, sink, header.encoding === 'binary_little_endian');
  for (const element of header.elements) {
    const steps = element.properties.map((property) => stepOf(roleOf(element, property), property));
    // Items of an element without properties take no bytes, however many are claimed.
    for (let items = steps.length > 0 ? 0 : element.count; items < element.count; ) {
      items += reader.takeItems(steps, element, element.count - items);
      sink.checkCount();
      if (items < element.count && !(await cursor.more())) {
        throw truncated(feed, element.count, items, 'items', element.name);
      }
    }
  }
  const left = await cursor.need(smallestItem(header.elements.at(-1)));
  if (left) throw malformed(feed, { is: 'goes-on' });
  return sink.finish();
}

/** Bytes that might be one more item: room for all its single values and empty lists. */
function smallestItem(element: PlyElement | undefined): number {
  const bytes = (element?.properties ?? []).map(({ value, length }) => (length ?? value).bytes);
  return Math.max(
    1,
    bytes.reduce((sum, n) => sum + n, 0),
  );
}

/** One property of an element, ready to be read. */
interface Step {
  role: Role;
  /** Where a single value goes: 0 to 2 for x, y and z, `ASIDE` for the rest. */
  slot: number;
  value: Scalar;
  length: Scalar | null;
}

const ASIDE = 3;

function stepOf(role: Role, { value, length }: PlyProperty): Step {
  const slot = ['x', 'y', 'z'].indexOf(role);
  return { role, slot: slot < 0 ? ASIDE : slot, value, length };
}

class ItemReader {
  readonly #cursor: ByteCursor;
  readonly #sink: PlySink;
  readonly #little: boolean;
  readonly #slots = new Float64Array(4);

  constructor(cursor: ByteCursor, sink: PlySink, littleEndian: boolean) {
    this.#cursor = cursor;
    this.#sink = sink;
    this.#little = littleEndian;
  }

  /** Takes items while they are whole in the cursor's window, `most` at most. @returns how many. */
  takeItems(steps: Step[], element: PlyElement, most: number): number {
    const isVertex = element.name === 'vertex';
    const slots = this.#slots;
    for (let taken = 0; taken < most; taken++) {
      if (!this.#hasItem(steps)) return taken;
      for (let k = 0; k < steps.length; k++) this.#take(steps[k]);
      if (isVertex) this.#sink.positions.push3(slots[0], slots[1], slots[2]);
    }
    return most;
  }

  /** True where the item at the cursor ends within the window. */
  #hasItem(steps: Step[]): boolean {
    const { view, at } = this.#cursor;
    const size = view.byteLength;
    let end = at;
    for (let k = 0; k < steps.length; k++) {
      const { value, length } = steps[k];
      if (length === null) end += value.bytes;
      else {
        if (end + length.bytes > size) return false;
        const entries = length.get(view, end, this.#little);
        this.#sink.checkLength(entries);
        end += length.bytes + entries * value.bytes;
      }
    }
    return end <= size;
  }

  #take({ role, slot, value, length }: Step): void {
    const cursor = this.#cursor;
    const { view } = cursor;
    if (length === null) {
      if (slot !== ASIDE) this.#slots[slot] = value.get(view, cursor.at, this.#little);
      cursor.at += value.bytes;
      return;
    }
    const entries = length.get(view, cursor.at, this.#little);
    let at = cursor.at + length.bytes;
    for (let k = 0; k < entries; k++, at += value.bytes) {
      if (role === 'corners') this.#sink.corner(value.get(view, at, this.#little));
      else if (role === 'strip') this.#sink.stripCorner(value.get(view, at, this.#little));
    }
    cursor.at = at;
    if (role === 'corners') this.#sink.endFace();
    else if (role === 'strip') this.#sink.endStrip();
  }
}
