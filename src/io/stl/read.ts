import { CornerNumbers } from '../../mesh/topology/corner-numbers.ts';
import { roomForLoose } from '../../mesh/topology/weld.ts';
import { LIMITS } from '../../model/limits.ts';
import { ByteCursor } from '../bytes/cursor.ts';
import { type Feed, malformed, truncated } from '../bytes/feed.ts';
import { type Growing, growingU32 } from '../bytes/growing.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';

/**
 * Binary STL: 80 bytes of header, a uint32 count, then 50 bytes a facet, little-endian:
 * normal, three corners, two bytes of attributes (3D Systems, *StereoLithography Interface
 * Specification*, October 1989).
 */
export const STL_HEADER_BYTES = 84;
export const STL_FACET_BYTES = 50;
export const STL_COUNT_AT = 80;
/** Where the nine corner coordinates start in a facet: past the normal, which is not trusted. */
const CORNERS_AT = 12;

/**
 * True for bytes that can only be binary STL: the length fits the count, or what follows the header
 * looks like facets. A header may begin with "solid" all the same.
 * @param byteLength null where the length is not known.
 */
export function isBinaryStl(head: Uint8Array, byteLength: number | null): boolean {
  if (head.length < STL_HEADER_BYTES) return false;
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength);
  const count = view.getUint32(STL_COUNT_AT, true);
  if (byteLength === STL_HEADER_BYTES + count * STL_FACET_BYTES) return true;
  return head.includes(0) && looksLikeFacets(view);
}

/** Judged by the whole facets in the head (20 at most): sane coordinates, normals of length one or none. */
function looksLikeFacets(view: DataView): boolean {
  const whole = Math.min(20, Math.floor((view.byteLength - STL_HEADER_BYTES) / STL_FACET_BYTES));
  for (let facet = 0; facet < whole; facet++) {
    const at = STL_HEADER_BYTES + facet * STL_FACET_BYTES;
    const number = (k: number) => view.getFloat32(at + k * 4, true);
    const normal = Math.hypot(number(0), number(1), number(2));
    if (normal !== 0 && !(Math.abs(normal - 1) < 0.1)) return false;
    for (let k = 3; k < 12; k++) if (!(Math.abs(number(k)) <= LIMITS.coordinateMm)) return false;
  }
  return whole > 0;
}

/**
 * Reads a binary STL, its triangles in the file's order. Corners at one place become one vertex as they are read: the
 * loose corners, six for every vertex, would fill memory once for writing and again for each pass over them.
 */
export async function readStlBinary(feed: Feed): Promise<RawMesh> {
  const cursor = new ByteCursor(feed.pieces);
  if (!(await cursor.need(STL_HEADER_BYTES))) {
    throw truncated(feed, STL_HEADER_BYTES, cursor.available, 'bytes');
  }
  const promised = cursor.view.getUint32(cursor.at + STL_COUNT_AT, true);
  cursor.at += STL_HEADER_BYTES;
  const present = feed.byteLength === null ? null : wholeFacets(feed.byteLength - STL_HEADER_BYTES);
  if (present !== null) checkCount(feed, promised, present);
  checkTriangleCount(feed, promised);
  const corners = growingU32(present === null ? undefined : promised * 3);
  const numbers = new CornerNumbers(present === null ? 0 : roomForLoose(promised));
  for (let found = 0; found < promised; ) {
    const take = Math.min(wholeFacets(cursor.available), promised - found);
    takeFacets(cursor, take, numbers, corners);
    found += take;
    if (found < promised && !(await cursor.more())) checkCount(feed, promised, found);
  }
  if (await cursor.need(STL_FACET_BYTES)) checkCount(feed, promised, promised + 1);
  return { positions: numbers.positions(), triangles: corners.take(), isWelded: true };
}

const wholeFacets = (bytes: number): number => Math.floor(bytes / STL_FACET_BYTES);

/** Refuses a file with fewer facets than promised, and one with more: either way part of the figure is missing. */
function checkCount(feed: Feed, promised: number, present: number): void {
  if (present < promised) throw truncated(feed, promised, present, 'triangles');
  if (present > promised) throw malformed(feed, { is: 'triangles-exceed', declared: promised });
}

/** Facets copied out in one go. */
const SLICE = 4096;
const copied = new Int32Array(SLICE * 9);

function takeFacets(
  cursor: ByteCursor,
  count: number,
  numbers: CornerNumbers,
  corners: Growing<Uint32Array>,
): void {
  corners.reserve(count * 3);
  for (let from = 0; from < count; from += SLICE) {
    const take = Math.min(SLICE, count - from);
    copyCorners(cursor.view, cursor.at, take, copied);
    numbers.number(copied, take * 3, corners.array, corners.length);
    corners.length += take * 3;
    cursor.at += take * STL_FACET_BYTES;
  }
}

/** The bits of facets' nine coordinates. */
function copyCorners(view: DataView, at: number, facets: number, dst: Int32Array): void {
  let src = at + CORNERS_AT;
  for (let i = 0; i < facets * 9; i += 9, src += STL_FACET_BYTES) {
    for (let k = 0; k < 9; k++) dst[i + k] = view.getInt32(src + k * 4, true);
  }
}
