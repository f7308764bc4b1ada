import { TOLERANCES } from '../../math/tolerances.ts';
import { normalize, scale, type Vec3 } from '../../math/vec3.ts';
import { blocksOf } from '../../mesh/near/blocks.ts';
import { blocksBeside } from '../../mesh/near/blocks-beside.ts';
import { buildTriangleTree, distanceToPoint, type TriangleTree } from '../../mesh/near/triangle-tree.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part } from '../../mesh/part/part.ts';
import { allPositions } from '../../mesh/part/vertices.ts';
import type { Side } from '../../model/part-ref.ts';

/** Where two parts touch, on surface of whatever shape. Recentred mm. */
export interface Touch {
  /** Pieces of each one's surface that lie against the other, nine coordinates a triangle, wound as they are there. */
  pieces: Readonly<Record<Side, Float64Array>>;
  areaMm2: number;
  middle: Vec3;
  /** The way from the back part to the front one, square to the surface as a whole; null where it goes all round. */
  axis: Vec3 | null;
}

/** A triangle no longer than this lies against another part where its corners and its middle do, mm. */
const FINE = 3;
/** A triangle that lies only partly against the other part is divided down to this length, mm. */
const LEAST = 0.25;
/** Share of its area below which a surface's normals, added up, tell no way. */
const ALL_ROUND = 1e-3;

/** Where two parts touch, no farther apart and overlapping no more than `TOLERANCES.contact`; kept as long as they are. */
export function touchOf(front: Part, back: Part): Touch {
  const ofFront = known.get(front) ?? new WeakMap<Part, Touch>();
  known.set(front, ofFront);
  let touch = ofFront.get(back);
  if (!touch) {
    touch = findTouch(front, back);
    ofFront.set(back, touch);
  }
  return touch;
}

const known = new WeakMap<Part, WeakMap<Part, Touch>>();

function findTouch(front: Part, back: Part): Touch {
  const near = { front: surfaceBeside(front, back), back: surfaceBeside(back, front) };
  const pieces = {
    front: piecesAgainst(front, near.front, back, near.back),
    back: piecesAgainst(back, near.back, front, near.front),
  };
  const { areaMm2, middle, outward } = summed(pieces.front);
  const isAllRound = Math.hypot(...outward) <= ALL_ROUND * areaMm2;
  return { pieces, areaMm2, middle, axis: isAllRound ? null : normalize(scale(outward, -1)) };
}

/** The triangles of a part in blocks that come as near another as parts that touch. */
function surfaceBeside(part: Part, other: Part): Uint32Array {
  const others = other.patches.map(({ triangles }) => blocksOf(other, triangles));
  return joinIndices(
    part.patches.flatMap(({ triangles }) => {
      const tree = blocksOf(part, triangles);
      return blocksBeside(tree, others, TOLERANCES.contact).map((b) =>
        triangles.subarray(tree.starts[b], tree.starts[b + 1]),
      );
    }),
  );
}

/** A tree over some of a part's triangles, for distances to its surface. */
export const treeOver = (part: Part, triangles: Uint32Array): TriangleTree =>
  buildTriangleTree({ positions: allPositions(part), triangles });

/** A tree over what of a part may lie against another. */
export const treeBeside = (part: Part, other: Part): TriangleTree =>
  treeOver(part, surfaceBeside(part, other));

function piecesAgainst(part: Part, own: Uint32Array, other: Part, others: Uint32Array): Float64Array {
  if (own.length === 0 || others.length === 0) return new Float64Array(0);
  const tree = treeOver(other, others);
  const found: number[] = [];
  const p = allPositions(part);
  for (let i = 0; i < own.length; i += 3) {
    const [a, b, c] = [own[i], own[i + 1], own[i + 2]].map(
      (v): Vec3 => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]],
    );
    takePieces(tree, a, b, c, found);
  }
  return Float64Array.from(found);
}

/** Takes up what of a triangle lies against the tree's: all of it, or of its halves what does. */
function takePieces(tree: TriangleTree, a: Vec3, b: Vec3, c: Vec3, into: number[]): void {
  const middle: Vec3 = [(a[0] + b[0] + c[0]) / 3, (a[1] + b[1] + c[1]) / 3, (a[2] + b[2] + c[2]) / 3];
  const radius = Math.max(apart(a, middle), apart(b, middle), apart(c, middle));
  const reach = TOLERANCES.contact;
  const off = distanceToPoint(tree, ...middle, reach + radius);
  if (off > reach + radius) return;
  const isAgainst = (q: Vec3) => distanceToPoint(tree, ...q, reach) <= reach;
  const [ab, bc, ca] = [apart(a, b), apart(b, c), apart(c, a)];
  const longest = Math.max(ab, bc, ca);
  if (longest <= FINE && off <= reach && isAgainst(a) && isAgainst(b) && isAgainst(c)) {
    into.push(...a, ...b, ...c);
    return;
  }
  if (longest <= LEAST) return;
  // Across its longest side: a long thin triangle is not divided along its length over and over.
  const [p, q, r] = longest === ab ? [a, b, c] : longest === bc ? [b, c, a] : [c, a, b];
  const half: Vec3 = [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2];
  takePieces(tree, p, half, r, into);
  takePieces(tree, half, q, r, into);
}

const apart = (p: Vec3, q: Vec3): number => Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);

/** Area of triangles, their middle and the sum of their normals by area. */
function summed(pieces: Float64Array): { areaMm2: number; middle: Vec3; outward: Vec3 } {
  let areaMm2 = 0;
  const outward: [number, number, number] = [0, 0, 0];
  const middle: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < pieces.length; i += 9) {
    const normal = areaNormal(pieces, i);
    const area = Math.hypot(...normal);
    areaMm2 += area;
    for (let k = 0; k < 3; k++) {
      outward[k] += normal[k];
      middle[k] += (area * (pieces[i + k] + pieces[i + 3 + k] + pieces[i + 6 + k])) / 3;
    }
  }
  return { areaMm2, middle: areaMm2 > 0 ? scale(middle, 1 / areaMm2) : middle, outward };
}

/** The normal of the triangle whose corners begin at `i`, as long as its area. */
export function areaNormal(p: ArrayLike<number>, i: number): Vec3 {
  const [ux, uy, uz] = [p[i + 3] - p[i], p[i + 4] - p[i + 1], p[i + 5] - p[i + 2]];
  const [vx, vy, vz] = [p[i + 6] - p[i], p[i + 7] - p[i + 1], p[i + 8] - p[i + 2]];
  return [(uy * vz - uz * vy) / 2, (uz * vx - ux * vz) / 2, (ux * vy - uy * vx) / 2];
}
