import type { Plane } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { dot, normalize, scale, sub } from '../../math/vec3.ts';
import type { Bounds } from '../../mesh/measure.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { blocksBeside } from '../../mesh/near/blocks-beside.ts';
import type { Part } from '../../mesh/part/part.ts';
import { openEdges } from '../face.ts';

/** A flat face of a part: triangles that hang together in one plane. */
export interface FlatFace {
  /** Its plane, the normal out of the part. Recentred mm. */
  plane: Plane;
  areaMm2: number;
  /** Index triples. */
  triangles: Uint32Array;
  /** Directed edges (two ids each) that only one of them has. */
  border: Uint32Array;
  bounds: Bounds;
  /** Which triangles these are, patch by patch of the part: the place of each one's first index. Of a seam's face it is all of them. */
  places: Map<number, number[]>;
}

/** Triangles that lean farther from their face's plane than this (cosine of 2°) are not of it, however small. */
const SAME_WAY = 0.9994;

/**
 * The flat faces of a part where it comes near another, the largest first: of its skin what hangs together there, of
 * faces that seams gave it all of each. None below the least area that can be shared.
 */
export function flatFaces(part: Part, other: Part): FlatFace[] {
  const skin = skinBeside(part, other);
  const around = trianglesAround(part, skin);
  /** 1 for a triangle that was found in a face, or in one too small to count. */
  const taken = new Uint8Array(skin.count);
  const faces = part.patches.flatMap(({ of, triangles }, patch) =>
    of.kind === 'face' ? [faceOf(part, wholePatch(part, triangles, patch), openEdges(triangles))] : [],
  );
  for (const seed of largestFirst(skin)) {
    if (taken[seed] === 1 || skin.areas[seed] === 0) continue;
    const found = growFully(part, skin, around, taken, seed);
    for (let n = 0; n < found.length; n++) taken[found[n]] = SEEN;
    if (areaOf(skin, found) >= TOLERANCES.contactArea)
      faces.push(faceOf(part, skin, borderOf(skin, around, taken, found), found));
    for (let n = 0; n < found.length; n++) taken[found[n]] = 1;
  }
  return faces.sort((a, b) => b.areaMm2 - a.areaMm2);
}

/** Triangles of a part, each at a number of its own, with what is asked of them again and again. */
interface Triangles {
  count: number;
  /** Three vertices each. */
  corners: Uint32Array;
  /** Unit normals, three numbers each; zeros where there is no area. */
  normals: Float64Array;
  areas: Float64Array;
  /** The patch each is of, and the place of its first index there. */
  patches: Uint32Array;
  places: Uint32Array;
  /** Room for those that are waited for while a face is being grown. */
  queue: Uint32Array<ArrayBuffer>;
  /** No corner is farther from the origin, mm. */
  reachMm: number;
}

const roomFor = (most: number, reachMm: number): Triangles => ({
  count: 0,
  reachMm,
  corners: new Uint32Array(most * 3),
  normals: new Float64Array(most * 3),
  areas: new Float64Array(most),
  patches: new Uint32Array(most),
  places: new Uint32Array(most),
  queue: new Uint32Array(most),
});

/** Takes up the triangles of a run of indices. A part that seams alone have made has no vertices but its `positions`. */
function takeUp(
  { positions: p }: Part,
  into: Triangles,
  triangles: Uint32Array,
  patch: number,
  from: number,
  to: number,
): void {
  for (let at = from; at < to; at += 3) {
    const i = into.count++;
    into.patches[i] = patch;
    into.places[i] = at;
    const [a, b, c] = [triangles[at] * 3, triangles[at + 1] * 3, triangles[at + 2] * 3];
    into.corners[i * 3] = triangles[at];
    into.corners[i * 3 + 1] = triangles[at + 1];
    into.corners[i * 3 + 2] = triangles[at + 2];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const x = uy * vz - uz * vy;
    const y = uz * vx - ux * vz;
    const z = ux * vy - uy * vx;
    const twice = Math.sqrt(x * x + y * y + z * z);
    into.areas[i] = twice / 2;
    if (twice === 0) continue;
    into.normals[i * 3] = x / twice;
    into.normals[i * 3 + 1] = y / twice;
    into.normals[i * 3 + 2] = z / twice;
  }
}

/** The triangles of a part's skin in blocks that come as near another part's as parts that touch. */
function skinBeside(part: Part, other: Part): Triangles {
  const others = other.patches.map(({ triangles }) => blocksOf(other, triangles));
  const near = part.patches.map(({ of, triangles }) => {
    const tree = blocksOf(part, triangles);
    const blocks = of.kind === 'skin' ? blocksBeside(tree, others, TOLERANCES.contact) : [];
    return { triangles, blocks: blocks.map((b) => [tree.starts[b], tree.starts[b + 1]] as const) };
  });
  const corners = near.flatMap(({ blocks }) => blocks).reduce((n, [from, to]) => n + to - from, 0);
  const skin = roomFor(
    corners / 3,
    Math.max(0, ...part.patches.map(({ triangles }) => reachOf(part, triangles))),
  );
  near.forEach(({ triangles, blocks }, patch) => {
    for (const [from, to] of blocks) takeUp(part, skin, triangles, patch, from, to);
  });
  return skin;
}

/** No corner of some of a part's triangles is farther from the origin, mm. */
function reachOf(part: Part, triangles: Uint32Array): number {
  const box = blocksOf(part, triangles).levels.at(-1) ?? [];
  return Math.hypot(...[0, 1, 2].map((k) => Math.max(Math.abs(box[k]), Math.abs(box[k + 3]))));
}

function wholePatch(part: Part, triangles: Uint32Array, patch: number): Triangles {
  const whole = roomFor(triangles.length / 3, reachOf(part, triangles));
  takeUp(part, whole, triangles, patch, 0, triangles.length);
  return whole;
}

/** Which triangles have each vertex of a part: those of vertex v stand from `starts[v]` to `starts[v + 1]`. */
interface Around {
  starts: Uint32Array;
  triangles: Uint32Array;
}

function trianglesAround({ positions }: Part, { corners, count }: Triangles): Around {
  const starts = new Uint32Array(positions.length / 3 + 2);
  for (let e = 0; e < count * 3; e++) starts[corners[e] + 2]++;
  for (let v = 2; v < starts.length; v++) starts[v] += starts[v - 1];
  const triangles = new Uint32Array(count * 3);
  // Each start runs on to the next one's place while they are filled.
  for (let e = 0; e < count * 3; e++) triangles[starts[corners[e] + 1]++] = (e / 3) | 0;
  return { starts, triangles };
}

/** Numbers of triangles by size, the largest first; sizes within a doubling are taken as they come. */
function largestFirst({ areas, count }: Triangles): Uint32Array {
  const SIZES = 128;
  const sizeOf = (i: number) =>
    areas[i] === 0
      ? SIZES - 1
      : Math.min(SIZES - 1, Math.max(0, (SIZES >> 1) - Math.ceil(Math.log2(areas[i]))));
  const starts = new Uint32Array(SIZES + 1);
  for (let i = 0; i < count; i++) starts[sizeOf(i) + 1]++;
  for (let size = 1; size <= SIZES; size++) starts[size] += starts[size - 1];
  const order = new Uint32Array(count);
  for (let i = 0; i < count; i++) order[starts[sizeOf(i)]++] = i;
  return order;
}

/** Planes that are tried for a face at the most. */
const PLANES = 6;

/** The face that a triangle is of. The first plane is that of this one alone, which may be tiny: what it finds has a better one. */
function growFully(
  part: Part,
  skin: Triangles,
  around: Around,
  taken: Uint8Array,
  seed: number,
): Uint32Array<ArrayBuffer> {
  let plane = planeOf(part, skin, Uint32Array.of(seed));
  let found = grow(part, skin, around, taken, seed, plane);
  for (let tried = 1; found.length > 1 && tried < PLANES; tried++) {
    const better = planeOf(part, skin, found);
    // Where the first one was as good it would find the same.
    if (areAlike(plane, better, skin.reachMm)) break;
    const more = grow(part, skin, around, taken, seed, better);
    if (more.length <= found.length) break;
    found = more;
    plane = better;
  }
  return found;
}

/** Planes that nowhere within `reach` of the origin are a thousandth of the tolerance of a flat face apart. */
const areAlike = (a: Plane, b: Plane, reach: number): boolean =>
  Math.hypot(...sub(a.normal, b.normal)) * reach + Math.abs(a.offset - b.offset) < TOLERANCES.flat / 1000;

/** The triangles that hang together with `seed` in a plane, edge by edge, and are not taken. */
function grow(
  part: Part,
  skin: Triangles,
  { starts, triangles }: Around,
  taken: Uint8Array,
  seed: number,
  plane: Plane,
): Uint32Array<ArrayBuffer> {
  const { corners, queue } = skin;
  let end = 0;
  queue[end++] = seed;
  taken[seed] = SEEN;
  for (let n = 0; n < end; n++) {
    for (let k = 0; k < 3; k++) {
      const a = corners[queue[n] * 3 + k];
      const b = corners[queue[n] * 3 + ((k + 1) % 3)];
      for (let at = starts[a]; at < starts[a + 1]; at++) {
        const next = triangles[at];
        if (taken[next] !== 0 || !runsAlong(corners, next, b, a) || !liesIn(part, skin, next, plane))
          continue;
        taken[next] = SEEN;
        queue[end++] = next;
      }
    }
  }
  for (let n = 0; n < end; n++) taken[queue[n]] = 0;
  return queue.slice(0, end);
}

/** The edges of seen triangles that no other seen one has. */
function borderOf(
  { corners }: Triangles,
  { starts, triangles }: Around,
  taken: Uint8Array,
  found: Uint32Array,
): Uint32Array {
  const border: number[] = [];
  for (let n = 0; n < found.length; n++) {
    for (let k = 0; k < 3; k++) {
      const a = corners[found[n] * 3 + k];
      const b = corners[found[n] * 3 + ((k + 1) % 3)];
      let at = starts[a];
      while (
        at < starts[a + 1] &&
        !(taken[triangles[at]] === SEEN && runsAlong(corners, triangles[at], b, a))
      )
        at++;
      if (at === starts[a + 1]) border.push(a, b);
    }
  }
  return Uint32Array.from(border);
}

/** In place of taken, while one face is being grown. */
const SEEN = 2;

/** True where a triangle has the edge from a to b. */
function runsAlong(corners: Uint32Array, i: number, a: number, b: number): boolean {
  const p = corners[i * 3];
  const q = corners[i * 3 + 1];
  const r = corners[i * 3 + 2];
  return (p === a && q === b) || (q === a && r === b) || (r === a && p === b);
}

/** True for a triangle that lies in a plane and looks the same way; one without area looks any way. */
function liesIn(
  { positions: p }: Part,
  { corners, normals, areas }: Triangles,
  i: number,
  { normal: [x, y, z], offset }: Plane,
): boolean {
  const lean = normals[i * 3] * x + normals[i * 3 + 1] * y + normals[i * 3 + 2] * z;
  if (areas[i] > 0 && lean < SAME_WAY) return false;
  for (let e = i * 3; e < i * 3 + 3; e++) {
    const v = corners[e] * 3;
    if (Math.abs(x * p[v] + y * p[v + 1] + z * p[v + 2] - offset) > TOLERANCES.flat) return false;
  }
  return true;
}

/** The plane that triangles lie in, by their areas. */
function planeOf({ positions: p }: Part, { corners, normals, areas }: Triangles, some: Uint32Array): Plane {
  const sum: [number, number, number] = [0, 0, 0];
  const middle: [number, number, number] = [0, 0, 0];
  let weight = 0;
  for (let n = 0; n < some.length; n++) {
    const i = some[n];
    weight += areas[i];
    for (let k = 0; k < 3; k++) {
      sum[k] += areas[i] * normals[i * 3 + k];
      for (let e = i * 3; e < i * 3 + 3; e++) middle[k] += (areas[i] * p[corners[e] * 3 + k]) / 3;
    }
  }
  const normal = normalize(sum);
  return { normal, offset: dot(normal, scale(middle, 1 / weight)) };
}

function areaOf({ areas }: Triangles, some: Uint32Array): number {
  let area = 0;
  for (let n = 0; n < some.length; n++) area += areas[some[n]];
  return area;
}

/** The box around some vertices, mm. */
function boundsAround({ positions: p }: Part, vertices: Uint32Array): Bounds {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (const v of vertices) {
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], p[v * 3 + k]);
      max[k] = Math.max(max[k], p[v * 3 + k]);
    }
  }
  return { min, max };
}

/** Some of the triangles, or all, as a face. */
function faceOf(
  part: Part,
  from: Triangles,
  border: Uint32Array,
  some = Uint32Array.from({ length: from.count }, (_, i) => i),
): FlatFace {
  const places = new Map<number, number[]>();
  const triangles = new Uint32Array(some.length * 3);
  let here: number[] = [];
  for (let n = 0; n < some.length; n++) {
    const i = some[n];
    for (let k = 0; k < 3; k++) triangles[n * 3 + k] = from.corners[i * 3 + k];
    if (n === 0 || from.patches[i] !== from.patches[some[n - 1]]) {
      here = places.get(from.patches[i]) ?? [];
      places.set(from.patches[i], here);
    }
    here.push(from.places[i]);
  }
  return {
    plane: planeOf(part, from, some),
    areaMm2: areaOf(from, some),
    triangles,
    border,
    bounds: boundsAround(part, border),
    places,
  };
}

/** The plane seen from its other side. */
export const turned = ({ normal, offset }: Plane): Plane => ({ normal: scale(normal, -1), offset: -offset });
