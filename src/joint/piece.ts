import { type Plane, type PlaneFrame, toFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { buildTriangleTree, type TriangleTree } from '../mesh/near/triangle-tree.ts';
import { joinIndices } from '../mesh/part/join-indices.ts';
import type { PatchOf } from '../mesh/part/part.ts';
import type { Side } from '../model/part-ref.ts';
import type { PieceSpec } from './kind.ts';
import { ofLate } from './of-late.ts';
import { type BodySpec, type JointSurface, parallelBody, trianglesIn, withRimOn } from './parallel-body.ts';
import { type JointFrame, jointFrame, placeSurface, planeInJoint } from './place-body.ts';

/** The surface beyond the face of what a joint adds to a part or takes from it, in place: open, its rim on the face. */
export interface Piece {
  of: PatchOf & { kind: 'joint' };
  /** The facet of its seam that it stands on. */
  facet: number;
  /** In the joint's own frame, cut off at its foot. */
  body: BodySpec;
  frame: JointFrame;
  /** Its surface there, and the height (mm) at which its axis leaves the face it stands on: 0 where the foot is on that. */
  shape: JointSurface;
  faceMm: number;
  /** Vertices in recentred mm; the rim's come first. Triangles look out of the body. */
  surface: Mesh;
  rimCount: number;
  /** It does not come to the face: its surface is closed, and its rim is that of its floor. */
  isHollow: boolean;
  /** The rim in the facet's frame, counter-clockwise seen from the front of the seam. */
  rim: Loop;
}

/** Where a joint stands. */
export interface JointSeat {
  seamId: string;
  jointId: string;
  facet: number;
  /** The side that the piece points away from: for a peg and its socket the one with the pegs. */
  pegOn: Side;
  frame: PlaneFrame;
  /** Its foot on the facet, recentred mm. */
  foot: Vec3;
  spinDeg: number;
}
/** A piece's rim in a frame, in the order of its vertices: flat x, y pairs, mm. */
export function rimIn({ rimCount, surface: { positions: p } }: Piece, frame: PlaneFrame): Loop {
  const rim = new Float64Array(rimCount * 2);
  for (let i = 0; i < rimCount; i++) rim.set(toFrame(frame, [p[i * 3], p[i * 3 + 1], p[i * 3 + 2]]), i * 2);
  return rim;
}

/**
 * The surface of a piece from the face to its end. `own` is the part's own face, where that is not the facet's plane:
 * parts that touch may stand a little apart. A hollow keeps its depth under that.
 */
export function makePiece(
  seat: JointSeat,
  { does, body: asked }: Pick<PieceSpec, 'does' | 'body'>,
  own?: Plane,
): Piece {
  const of = { kind: 'joint', seamId: seat.seamId, jointId: seat.jointId, does } as const;
  const frame = jointFrame(seat.frame, seat.foot, seat.spinDeg, seat.pegOn);
  const face = own && planeInJoint(frame, own);
  const faceMm = face ? face.offset / face.normal[2] : 0;
  const isHollow = asked.bottom > 0;
  const body = isHollow ? liftedBy(asked, faceMm) : asked;
  const surface = isHollow ? hollowOf(body) : face ? withRimOn(surfaceOf(body), face) : surfaceOf(body);
  const positions = placeSurface(surface, frame);
  const rim = new Float64Array(surface.rimCount * 2);
  for (let i = 0; i < surface.rimCount; i++) {
    // The rim runs counter-clockwise seen from the tip, which may look at the seam from behind.
    const v = seat.pegOn === 'back' ? i : surface.rimCount - 1 - i;
    rim.set(toFrame(seat.frame, [positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]]), i * 2);
  }
  return {
    of,
    facet: seat.facet,
    body,
    frame,
    shape: surface,
    faceMm,
    surface: { positions, triangles: surface.triangles },
    rimCount: surface.rimCount,
    isHollow,
    rim,
  };
}

const liftedBy = (body: BodySpec, mm: number): BodySpec => ({
  ...body,
  bottom: body.bottom + mm,
  coreTop: body.coreTop + mm,
});

/** The closed body a boolean works with: it reaches `depth` mm past the face, into the peg's own part or out of the socket; a hollow as it is. */
export function closedBody(piece: Piece, depth: number): Mesh {
  if (piece.isHollow) return piece.surface;
  const surface = surfaceOf({ ...piece.body, bottom: -depth });
  return { positions: placeSurface(surface, piece.frame), triangles: withFloor(surface, piece.body) };
}

/** A piece and its mirror image about the facet as one closed body, mm. */
export function bothEnds({ shape: { positions, triangles, rimCount }, frame }: Piece): Mesh {
  const count = positions.length / 3;
  const rest = positions.slice(rimCount * 3).map((v, i) => (i % 3 === 2 ? -v : v));
  const mirrored = triangles.map((id) => (id < rimCount ? id : id + count - rimCount)).reverse();
  const whole = {
    positions: Float64Array.from([...positions, ...rest]),
    triangles: Uint32Array.from([...triangles, ...mirrored]),
    rimCount,
  };
  return { positions: placeSurface(whole, frame), triangles: whole.triangles };
}

/** Height over its foot at which a piece begins, mm: at the face, or at a hollow's floor. */
export const floorOf = ({ isHollow, body }: Piece): number => (isHollow ? body.bottom : 0);

/** Height of a piece's lowest point over its foot, mm: less than 0 where the part's own face lies below that, a hollow's floor. */
export function lowestOf({ shape: { positions, rimCount }, isHollow, body }: Piece): number {
  if (isHollow) return body.bottom;
  let lowest = 0;
  for (let i = 0; i < rimCount; i++) lowest = Math.min(lowest, positions[i * 3 + 2]);
  return lowest;
}

/** Volume of a piece beyond the face, mm³, as its facets have it. */
export function pieceVolume({ shape, faceMm }: Piece): number {
  const known = volumes.get(shape);
  if (known !== undefined) return known;
  const p = shape.positions;
  let six = 0;
  // Seen from where the axis leaves the face, which the floor lies in: it adds nothing to the divergence sum.
  for (let i = 0; i < shape.triangles.length; i += 3) {
    const a = shape.triangles[i] * 3;
    const b = shape.triangles[i + 1] * 3;
    const c = shape.triangles[i + 2] * 3;
    const [az, bz, cz] = [p[a + 2] - faceMm, p[b + 2] - faceMm, p[c + 2] - faceMm];
    six +=
      p[a] * (p[b + 1] * cz - bz * p[c + 1]) +
      p[a + 1] * (bz * p[c] - p[b] * cz) +
      az * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  volumes.set(shape, six / 6);
  return six / 6;
}

const volumes = new WeakMap<JointSurface, number>();

/** A peg that only moves or spins keeps its shape. */
const surfaceOf = ofLate(parallelBody);

const hollowOf = ofLate((body: BodySpec): JointSurface => {
  const surface = parallelBody(body);
  return { ...surface, triangles: withFloor(surface, body) };
});

const trees = new WeakMap<JointSurface, TriangleTree>();

/** A nearest-distance tree over a piece's surface in the joint's own frame, kept as long as the shape. */
export function shapeTree({ shape }: Piece): TriangleTree {
  let tree = trees.get(shape);
  if (!tree) {
    const positions = Float32Array.from(shape.positions);
    tree = buildTriangleTree({ positions, triangles: shape.triangles });
    trees.set(shape, tree);
  }
  return tree;
}

/** Closed by a floor across the rim, which lies in one level and looks down. */
function withFloor({ positions, triangles, rimCount }: JointSurface, { core }: BodySpec): Uint32Array {
  const rim = new Float64Array(rimCount * 2);
  for (let k = 0; k < rimCount; k++) rim.set([positions[k * 3], positions[k * 3 + 1]], k * 2);
  const over = trianglesIn(core, rim);
  const floor = new Uint32Array(over.length);
  for (let i = 0; i < over.length; i += 3) floor.set([over[i], over[i + 2], over[i + 1]], i);
  return joinIndices([triangles, floor]);
}
