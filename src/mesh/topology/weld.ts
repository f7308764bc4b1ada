import type { Mesh } from '../mesh.ts';
import { placeHash } from './place-hash.ts';

export interface Weld {
  mesh: Mesh;
  /** Used vertices that were found equal to an earlier one. */
  mergedCount: number;
}

/** Marks a free slot, and a vertex not looked up yet. */
const NONE = 0xffffffff;

/** A closed mesh written as loose triangles has each vertex six times; a little room is left for others. */
const LOOSE_SHARE = 5.5;

/** An open-addressing table from coordinates to a vertex number. Vertices are numbered as they are first met. */
interface Table {
  /** Coordinates of the numbered vertices, as float bits. */
  bits: Int32Array;
  count: number;
  /** Lookups so far. */
  asked: number;
  /** Vertex number per slot; a power of two of them. */
  slots: Uint32Array;
}

/**
 * Joins vertices with equal coordinates (bit for bit, but −0 equals 0) and drops those no triangle uses.
 * Vertices come out in the order in which triangles first use them; triangles keep their order and winding.
 */
export function weld(mesh: Mesh): Weld {
  const src = new Int32Array(mesh.positions.buffer, mesh.positions.byteOffset, mesh.positions.length);
  const loose = isLoose(mesh);
  const table = newTable(loose ? src.length / 3 / LOOSE_SHARE : src.length / 3);
  const triangles = loose ? weldLoose(table, src) : weldIndexed(table, src, mesh.triangles);
  const positions = new Float32Array(table.bits.slice(0, table.count * 3).buffer);
  return { mesh: { positions, triangles }, mergedCount: table.asked - table.count };
}

/** True where every triangle has three vertices of its own, in order. */
function isLoose({ positions, triangles }: Mesh): boolean {
  if (triangles.length * 3 !== positions.length) return false;
  for (let i = 0; i < triangles.length; i++) if (triangles[i] !== i) return false;
  return true;
}

function weldLoose(table: Table, src: Int32Array): Uint32Array {
  const welded = new Uint32Array(src.length / 3);
  for (let i = 0; i < welded.length; i++) welded[i] = idOf(table, src, i * 3);
  return welded;
}

/** Each vertex is looked up once, however many triangles share it. */
function weldIndexed(table: Table, src: Int32Array, triangles: Uint32Array): Uint32Array {
  const welded = new Uint32Array(triangles.length);
  const known = new Uint32Array(src.length / 3).fill(NONE);
  for (let i = 0; i < triangles.length; i++) {
    const vertex = triangles[i];
    if (known[vertex] === NONE) known[vertex] = idOf(table, src, vertex * 3);
    welded[i] = known[vertex];
  }
  return welded;
}

function newTable(room: number): Table {
  const atLeast = Math.max(64, Math.ceil(room));
  return { bits: new Int32Array(atLeast * 3), count: 0, asked: 0, slots: freeSlots(atLeast) };
}

/** At least two slots for every vertex, so that probes stay short. */
const freeSlots = (room: number): Uint32Array =>
  new Uint32Array(2 ** Math.ceil(Math.log2(room * 2))).fill(NONE);

/** Number of the vertex whose coordinates start at `src[at]`, new if its coordinates are. */
function idOf(table: Table, src: Int32Array, at: number): number {
  const { bits, slots } = table;
  table.asked++;
  const x = src[at];
  const y = src[at + 1];
  const z = src[at + 2];
  const mask = slots.length - 1;
  let slot = placeHash(x, y, z) & mask;
  for (let id = slots[slot]; id !== NONE; id = slots[slot]) {
    const k = id * 3;
    if (sameNumber(bits[k], x) && sameNumber(bits[k + 1], y) && sameNumber(bits[k + 2], z)) return id;
    slot = (slot + 1) & mask;
  }
  const id = table.count++;
  slots[slot] = id;
  bits[id * 3] = x;
  bits[id * 3 + 1] = y;
  bits[id * 3 + 2] = z;
  if (table.count * 3 === bits.length) grow(table);
  return id;
}

/** Equal as floats given their bits: shifting the sign out tells the two zeros. */
const sameNumber = (a: number, b: number): boolean => a === b || (a | b) << 1 === 0;

function grow(table: Table): void {
  const { count } = table;
  const bits = new Int32Array(table.bits.length * 2);
  bits.set(table.bits);
  const slots = freeSlots(count * 2);
  const mask = slots.length - 1;
  for (let id = 0; id < count; id++) {
    let slot = placeHash(bits[id * 3], bits[id * 3 + 1], bits[id * 3 + 2]) & mask;
    while (slots[slot] !== NONE) slot = (slot + 1) & mask;
    slots[slot] = id;
  }
  table.bits = bits;
  table.slots = slots;
}
