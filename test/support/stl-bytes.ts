/**
 * Binary STL files read and judged apart from the engine: a file is a soup of triangles, nine
 * singles each, and what belongs together is found by equal coordinates.
 */

/** Nine coordinates a triangle, mm. */
export type Soup = Float32Array;

const HEADER = 84;
const FACET = 50;

/** @throws Error when the length does not fit the count. */
export function readSoup(bytes: Uint8Array): Soup {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = view.getUint32(80, true);
  if (bytes.byteLength !== HEADER + count * FACET) throw new Error(`${bytes.byteLength} bytes for ${count}`);
  const soup = new Float32Array(count * 9);
  for (let i = 0; i < soup.length; i++) {
    soup[i] = view.getFloat32(HEADER + Math.floor(i / 9) * FACET + 12 + (i % 9) * 4, true);
  }
  return soup;
}

export function writeSoup(soup: Soup): Uint8Array {
  const bytes = new Uint8Array(HEADER + (soup.length / 9) * FACET);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, soup.length / 9, true);
  for (let i = 0; i < soup.length; i++) {
    view.setFloat32(HEADER + Math.floor(i / 9) * FACET + 12 + (i % 9) * 4, soup[i], true);
  }
  return bytes;
}

/** The triangles that `choose` takes, by number. */
export function pick(soup: Soup, choose: (t: number) => boolean): Soup {
  const chosen: number[] = [];
  for (let t = 0; t < soup.length / 9; t++) if (choose(t)) chosen.push(...soup.subarray(t * 9, t * 9 + 9));
  return Float32Array.from(chosen);
}

/** A corner's coordinates as text, every bit of them. */
export function cornerKeys(soup: Soup): string[] {
  const bits = new Int32Array(soup.buffer, soup.byteOffset, soup.length);
  const keys: string[] = [];
  for (let i = 0; i < bits.length; i += 3) keys.push(`${bits[i]},${bits[i + 1]},${bits[i + 2]}`);
  return keys;
}

/** Each triangle as text, from its least corner on, so that the same triangle turned reads the same. */
export function triangleKeys(soup: Soup): string[] {
  const corners = cornerKeys(soup);
  const keys: string[] = [];
  for (let v = 0; v < corners.length; v += 3) {
    const [a, b, c] = [corners[v], corners[v + 1], corners[v + 2]];
    keys.push(a <= b && a <= c ? `${a} ${b} ${c}` : b <= c ? `${b} ${c} ${a}` : `${c} ${a} ${b}`);
  }
  return keys;
}

/** Edges that are not walked exactly once each way, corners told by their coordinates. */
export function unpairedEdges(soup: Soup): number {
  const places = new Map<string, number>();
  const corners = cornerKeys(soup).map((key) => {
    const known = places.get(key) ?? places.size;
    places.set(key, known);
    return known;
  });
  const edge = (from: number, to: number) => from * places.size + to;
  const walked = new Map<number, number>();
  corners.forEach((from, v) => {
    const key = edge(from, corners[v % 3 === 2 ? v - 2 : v + 1]);
    walked.set(key, (walked.get(key) ?? 0) + 1);
  });
  let unpaired = 0;
  for (const [key, count] of walked) {
    const [from, to] = [Math.floor(key / places.size), key % places.size];
    if (count !== 1 || walked.get(edge(to, from)) !== 1) unpaired++;
  }
  return unpaired;
}

/** Volume enclosed with the cone to `about`, in double precision: of an open surface, closed by that cone. */
export function soupVolume(soup: Soup, about: readonly number[] = [0, 0, 0]): number {
  const [x, y, z] = about;
  let six = 0;
  for (let i = 0; i < soup.length; i += 9) {
    const [ax, ay, az] = [soup[i] - x, soup[i + 1] - y, soup[i + 2] - z];
    const [bx, by, bz] = [soup[i + 3] - x, soup[i + 4] - y, soup[i + 5] - z];
    const [cx, cy, cz] = [soup[i + 6] - x, soup[i + 7] - y, soup[i + 8] - z];
    six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  }
  return six / 6;
}

/** The soup's connected pieces: triangles that share a corner belong together. */
export function pieces(soup: Soup): Soup[] {
  const owner = new Map<string, number>();
  const parent = Array.from({ length: soup.length / 9 }, (_, t) => t);
  const find = (t: number): number => {
    while (parent[t] !== t) t = parent[t];
    return t;
  };
  cornerKeys(soup).forEach((key, v) => {
    const t = Math.floor(v / 3);
    const seen = owner.get(key);
    if (seen === undefined) owner.set(key, t);
    else parent[find(t)] = find(seen);
  });
  const roots = [...new Set(parent.map((_, t) => find(t)))];
  return roots.map((root) => pick(soup, (t) => find(t) === root));
}
