import { cornerKeys, readSoup, type Soup } from '../../../support/stl-bytes.ts';
import { type Triangle, volumeAbout } from './triangle.ts';
import type { Point } from './vectors.ts';

/** A closed surface as its file has it, moved to where it can be reckoned with; its corners told apart by all their bits. */
export interface PartFile {
  name: string;
  triangles: Triangle[];
  /** Three numbers of places a triangle. */
  corners: Uint32Array;
  /** The places themselves. */
  places: Point[];
  /** Edges that are not walked as often one way as the other. */
  unpaired: number;
  /** Places − edges + triangles. */
  euler: number;
  /** Triangles that hang together by their corners, by number, each piece with the volume it encloses, mm³. */
  pieces: { triangles: number[]; volume: number }[];
  /** The most by which single precision may have moved a coordinate, mm. */
  stepMm: number;
}

/** Reads a file and moves it by −`centre`. @throws Error when its length does not fit its count. */
export function readPart(name: string, bytes: Uint8Array, centre: Point): PartFile {
  const soup = readSoup(bytes);
  const { corners, places } = placesOf(soup, centre);
  const triangles = Array.from(
    { length: corners.length / 3 },
    (_, t): Triangle => [places[corners[t * 3]], places[corners[t * 3 + 1]], places[corners[t * 3 + 2]]],
  );
  const { unpaired, edges } = edgesOf(corners);
  const size = soup.reduce((most, v) => Math.max(most, Math.abs(v)), 0);
  return {
    name,
    triangles,
    corners,
    places,
    unpaired,
    euler: places.length - edges + triangles.length,
    pieces: piecesOf(corners, places.length).map((own) => ({
      triangles: own,
      volume: volumeAbout(
        own.map((t) => triangles[t]),
        [0, 0, 0],
      ),
    })),
    stepMm: size * 2 ** -23,
  };
}

function placesOf(soup: Soup, centre: Point) {
  const known = new Map<string, number>();
  const places: Point[] = [];
  const corners = Uint32Array.from(cornerKeys(soup), (key, v) => {
    const seen = known.get(key);
    if (seen !== undefined) return seen;
    known.set(key, places.length);
    const [x, y, z] = soup.subarray(v * 3, v * 3 + 3);
    return places.push([x - centre[0], y - centre[1], z - centre[2]]) - 1;
  });
  return { corners, places };
}

function edgesOf(corners: Uint32Array): { unpaired: number; edges: number } {
  const balance = new Map<string, number>();
  corners.forEach((from, v) => {
    const to = corners[v % 3 === 2 ? v - 2 : v + 1];
    const key = from < to ? `${from} ${to}` : `${to} ${from}`;
    balance.set(key, (balance.get(key) ?? 0) + (from < to ? 1 : -1));
  });
  return { unpaired: [...balance.values()].filter((n) => n !== 0).length, edges: balance.size };
}

function piecesOf(corners: Uint32Array, placeCount: number): number[][] {
  const parent = Uint32Array.from({ length: placeCount }, (_, v) => v);
  const find = (v: number): number => {
    while (parent[v] !== v) {
      parent[v] = parent[parent[v]];
      v = parent[v];
    }
    return v;
  };
  corners.forEach((v, i) => {
    parent[find(v)] = find(corners[i - (i % 3)]);
  });
  const pieces = new Map<number, number[]>();
  for (let t = 0; t < corners.length / 3; t++) {
    const root = find(corners[t * 3]);
    const own = pieces.get(root);
    if (own) own.push(t);
    else pieces.set(root, [t]);
  }
  return [...pieces.values()];
}
