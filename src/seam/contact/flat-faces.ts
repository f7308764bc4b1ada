import type { Plane } from '../../math/plane.ts';
import { TOLERANCES } from '../../math/tolerances.ts';
import { cross, dot, normalize, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Bounds } from '../../mesh/measure.ts';
import { forEachNear } from '../../mesh/near/near-triangles.ts';
import type { Part } from '../../mesh/part/part.ts';
import { coordinate, type Vertices } from '../../mesh/part/vertices.ts';
import { PairTable } from '../../mesh/topology/pair-table.ts';

/** A flat face of a part's skin: triangles that hang together in one plane. */
export interface FlatFace {
  /** Its plane, the normal out of the part. Recentred mm. */
  plane: Plane;
  areaMm2: number;
  /** Index triples. */
  triangles: Uint32Array;
  /** Which triangles these are, patch by patch of the part: the place of each one's first index. Of a seam's face it is all of them. */
  places: Map<number, number[]>;
}

/** Triangles that lean farther from their face's plane than this (cosine of 2°) are not of it, however small. */
const SAME_WAY = 0.9994;

/** A triangle of the skin that may be of a flat face. */
interface Candidate {
  patch: number;
  at: number;
  corners: [number, number, number];
  /** Twice its area along its normal. */
  twice: Vec3;
  areaMm2: number;
}

/**
 * The flat faces of a part that have something in a box, the largest first: of its skin what hangs together there, of
 * faces that seams gave it all of each. None below the least area that can be shared.
 */
export function flatFaces(part: Part, box: Bounds): FlatFace[] {
  const candidates = candidatesIn(part, box);
  const beside = neighboursOf(candidates);
  const taken = new Uint8Array(candidates.length);
  const bySize = candidates.map((_, i) => i).sort((a, b) => candidates[b].areaMm2 - candidates[a].areaMm2);
  const faces = part.patches.flatMap(({ of, triangles }, patch) =>
    of.kind === 'face' ? [faceOver(part, allOf(part, triangles, patch))] : [],
  );
  for (const seed of bySize) {
    if (taken[seed] === 1 || candidates[seed].areaMm2 === 0) continue;
    // The first plane is that of one triangle, which may be tiny: what it finds has a better one.
    const rough = grow(part, candidates, beside, taken, seed, planeOver(part, [candidates[seed]]));
    const plane = planeOver(
      part,
      rough.map((i) => candidates[i]),
    );
    const grown = grow(part, candidates, beside, taken, seed, plane);
    const found = grown.length >= rough.length ? grown : rough;
    for (const i of found) taken[i] = 1;
    const face = faceOver(
      part,
      found.map((i) => candidates[i]),
    );
    if (face.areaMm2 >= TOLERANCES.contactArea) faces.push(face);
  }
  return faces.sort((a, b) => b.areaMm2 - a.areaMm2);
}

function candidatesIn(part: Part, box: Bounds): Candidate[] {
  const candidates: Candidate[] = [];
  const limits = Float64Array.of(...box.min, ...box.max);
  part.patches.forEach(({ of, triangles }, patch) => {
    if (of.kind !== 'skin') return;
    forEachNear({ positions: part.positions, triangles }, limits, (at) =>
      candidates.push(candidateAt(part, triangles, patch, at)),
    );
  });
  return candidates;
}

function candidateAt(part: Part, triangles: Uint32Array, patch: number, at: number): Candidate {
  const corners: Candidate['corners'] = [triangles[at], triangles[at + 1], triangles[at + 2]];
  const [a, b, c] = corners.map((v) => placeOf(part, v));
  const twice = cross(sub(b, a), sub(c, a));
  return { patch, at, corners, twice, areaMm2: Math.hypot(...twice) / 2 };
}

const allOf = (part: Part, triangles: Uint32Array, patch: number): Candidate[] =>
  Array.from({ length: triangles.length / 3 }, (_, t) => candidateAt(part, triangles, patch, t * 3));

const placeOf = (vertices: Vertices, v: number): Vec3 => [
  coordinate(vertices, v, 0),
  coordinate(vertices, v, 1),
  coordinate(vertices, v, 2),
];

/** The candidates over each one's three edges; −1 where there is none. */
function neighboursOf(candidates: readonly Candidate[]): Int32Array {
  const edges = new PairTable(candidates.length * 3);
  const owners: number[] = [];
  candidates.forEach(({ corners }, i) => {
    for (let k = 0; k < 3; k++) owners[edges.number(corners[k], corners[(k + 1) % 3])] = i;
  });
  const beside = new Int32Array(candidates.length * 3);
  candidates.forEach(({ corners }, i) => {
    for (let k = 0; k < 3; k++) {
      const edge = edges.find(corners[(k + 1) % 3], corners[k]);
      beside[i * 3 + k] = edge < 0 ? -1 : owners[edge];
    }
  });
  return beside;
}

/** The candidates that hang together with `seed` in a plane and are not taken. */
function grow(
  part: Part,
  candidates: readonly Candidate[],
  beside: Int32Array,
  taken: Uint8Array,
  seed: number,
  plane: Plane,
): number[] {
  const found = [seed];
  const seen = new Set(found);
  for (let i = 0; i < found.length; i++) {
    for (let k = 0; k < 3; k++) {
      const next = beside[found[i] * 3 + k];
      if (next < 0 || seen.has(next) || taken[next] === 1 || !liesIn(part, candidates[next], plane)) continue;
      seen.add(next);
      found.push(next);
    }
  }
  return found;
}

function liesIn(part: Part, { corners, twice, areaMm2 }: Candidate, { normal, offset }: Plane): boolean {
  return (
    dot(twice, normal) >= 2 * areaMm2 * SAME_WAY &&
    corners.every((v) => Math.abs(dot(normal, placeOf(part, v)) - offset) <= TOLERANCES.flat)
  );
}

/** The plane that triangles lie in, by their areas. */
function planeOver(part: Part, triangles: readonly Candidate[]): Plane {
  const sum: [number, number, number] = [0, 0, 0];
  for (const { twice } of triangles) for (let k = 0; k < 3; k++) sum[k] += twice[k];
  const normal = normalize(sum);
  let [height, weight] = [0, 0];
  for (const { corners, areaMm2 } of triangles) {
    for (const v of corners) height += (areaMm2 * dot(normal, placeOf(part, v))) / 3;
    weight += areaMm2;
  }
  return { normal, offset: height / weight };
}

function faceOver(part: Part, found: readonly Candidate[]): FlatFace {
  const places = new Map<number, number[]>();
  for (const { patch, at } of found) {
    const known = places.get(patch);
    if (known) known.push(at);
    else places.set(patch, [at]);
  }
  return {
    plane: planeOver(part, found),
    areaMm2: found.reduce((sum, { areaMm2 }) => sum + areaMm2, 0),
    triangles: Uint32Array.from(found.flatMap(({ corners }) => corners)),
    places,
  };
}

/** The plane seen from its other side. */
export const turned = ({ normal, offset }: Plane): Plane => ({ normal: scale(normal, -1), offset: -offset });
