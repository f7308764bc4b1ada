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
  return Array.from(
    { length: soup.length / 3 },
    (_, v) => `${bits[v * 3]},${bits[v * 3 + 1]},${bits[v * 3 + 2]}`,
  );
}

/** Each triangle as text, from its least corner on, so that the same triangle turned reads the same. */
export function triangleKeys(soup: Soup): string[] {
  const corners = cornerKeys(soup);
  return Array.from({ length: soup.length / 9 }, (_, t) => {
    const own = corners.slice(t * 3, t * 3 + 3);
    const first = own.indexOf([...own].sort()[0]);
    return `${own[first]} ${own[(first + 1) % 3]} ${own[(first + 2) % 3]}`;
  });
}

/** Edges that are not walked exactly once each way, corners told by their coordinates. */
export function unpairedEdges(soup: Soup): number {
  const corners = cornerKeys(soup);
  const walked = new Map<string, number>();
  corners.forEach((from, v) => {
    const to = corners[v % 3 === 2 ? v - 2 : v + 1];
    const key = `${from} ${to}`;
    walked.set(key, (walked.get(key) ?? 0) + 1);
  });
  let unpaired = 0;
  for (const [key, count] of walked) {
    const [from, to] = key.split(' ');
    if (count !== 1 || walked.get(`${to} ${from}`) !== 1) unpaired++;
  }
  return unpaired;
}

/** Volume enclosed with the cone to `about`, in double precision: of an open surface, closed by that cone. */
export function soupVolume(soup: Soup, about: readonly number[] = [0, 0, 0]): number {
  let six = 0;
  for (let i = 0; i < soup.length; i += 9) {
    const [ax, ay, az, bx, by, bz, cx, cy, cz] = Array.from(
      soup.subarray(i, i + 9),
      (v, k) => v - about[k % 3],
    );
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
