import { solidAngle } from '../../math/solid-angle.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import { compactPart, meshOf, type Part, type Patch, type PatchOf } from '../../mesh/part/part.ts';
import { allPositions, NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import { placesOf, putBack } from '../collar.ts';
import { type FarPiece, farPieces, MOST_PIECES } from './far-pieces.ts';
import { isNowhere } from './is-nowhere.ts';
import { narrowCone } from './narrow-cone.ts';
import { nearTriangles, nearVertices } from './near-skin.ts';

/** What is left of a part, closed, and what was taken off. */
interface Spared {
  part: Part;
  /** What each of its vertices is called in the part it came from. */
  ids: Uint32Array;
  pieces: FarPiece[];
  /** Per patch of the part the piece (by its place in `pieces`, from 1) that each triangle went with; 0 where it is left. */
  goneWith: Uint8Array[];
}

/**
 * Works a boolean with `other` on what of a part comes near its skin, and puts back what was left out; null where that
 * does not come out. Each piece that is far is replaced by a cone over its border. The boolean leaves such a cone whole, and
 * the piece takes its place again; or leaves nothing of it, and the piece is gone with it; anything else is no result.
 *
 * Why that is the same as the boolean on the whole part: only between a piece and its cone are inside and outside of the
 * part told otherwise. No skin of the other passes through the piece, which is far from it, nor through the cone, which
 * then would be neither whole nor gone. So each shell of it lies there altogether or nowhere, and one corner of it tells.
 */
export function workNear(
  part: Part,
  other: Part,
  lidOf: (number: number) => PatchOf,
  work: (piece: Part) => Part | null,
): Part | null {
  const spared = spareFar(part, other, lidOf);
  if (!spared) return work(part);
  const worked = work(spared.part);
  const places = worked && placesOf({ ...meshOf(spared.part), ids: spared.ids });
  if (!worked || !places) return null;
  const left = spared.pieces.map(({ lid }) =>
    worked.patches.some(({ of, triangles }) => of === lid && triangles.length > 0),
  );
  // Those that are left are put back together, as what was under one lid.
  const lid = lidOf(0);
  const lids = spared.pieces.map((piece) => piece.lid);
  const patches = worked.patches.map(
    (patch): Patch => (lids.includes(patch.of) ? { ...patch, of: lid } : patch),
  );
  const rest = part.patches.map(({ triangles }, i) =>
    pickedBy(triangles, spared.goneWith[i], (piece) => piece > 0 && left[piece - 1]),
  );
  const border = joinIndices(spared.pieces.filter((_, k) => left[k]).map((piece) => piece.border));
  const collar = { part: spared.part, ids: spared.ids, rest, border, lid, places };
  const back = putBack(part, collar, { ...worked, patches });
  return back && compactPart(back, back.patches).part;
}

/** A part without what is far from another; null where that is not worth it or cannot be told. */
function spareFar(part: Part, other: Part, lidOf: (number: number) => PatchOf): Spared | null {
  const isNear = nearTriangles(part, other);
  const hasNear = nearVertices(part, isNear);
  const far = isNear.reduce((sum, marks) => sum + marks.reduce((n, near) => n + 1 - near, 0), 0);
  const all = isNear.reduce((sum, marks) => sum + marks.length, 0);
  if (far < all / 2) return null;
  const parents = newShells(hasNear.length);
  part.patches.forEach(({ triangles: t }, i) => {
    for (let k = 0, at = 0; at < t.length; k++, at += 3) {
      if (isNear[i][k] === 1) continue;
      joinShells(parents, t[at], t[at + 1]);
      joinShells(parents, t[at], t[at + 2]);
    }
  });
  const pieces = farPieces(part, isNear, hasNear, parents, lidOf);
  if (pieces.length === 0) return null;
  const pieceOf = new Map(pieces.map(({ root }, k) => [root, k + 1]));
  const goneWith = part.patches.map(({ triangles: t }, i) =>
    isNear[i].map((near, k) => (near === 1 ? 0 : (pieceOf.get(rootOf(parents, t[k * 3])) ?? 0))),
  );
  const kept = part.patches.map(
    ({ of, triangles }, i): Patch => ({
      of,
      triangles: pickedBy(triangles, goneWith[i], (piece) => piece === 0),
    }),
  );
  const { part: rest, mesh } = compactPart(
    part,
    kept.filter(({ triangles }) => triangles.length > 0),
  );
  const closed = withCones(rest, mesh.ids, pieces, hasNear.length);
  const cones = closed.patches.slice(rest.patches.length).map(({ triangles }) => triangles);
  const gone = part.patches.map(({ triangles }, i) => pickedBy(triangles, goneWith[i], (piece) => piece > 0));
  const [positions, taken, instead] = [allPositions(part), joinIndices(gone), joinIndices(cones)];
  const between = (x: number, y: number, z: number) =>
    solidAngle(positions, taken, x, y, z) - solidAngle(closed.positions, instead, x, y, z);
  if (!isNowhere(between, other)) return null;
  return { part: closed, ids: mesh.ids, pieces, goneWith };
}

/** The part with a cone over each piece's border; `count` vertices there were before. */
function withCones(part: Part, ids: Uint32Array, pieces: readonly FarPiece[], count: number): Part {
  const numbers = new Uint32Array(count);
  for (let v = 0; v < ids.length; v++) numbers[ids[v]] = v;
  const added: number[] = [];
  const cones = pieces.map(({ lid, border, tip }): Patch => {
    const own = border.map((v) => numbers[v]);
    const cone = narrowCone(part.positions, own, tip, ids.length + added.length / 3);
    for (const c of cone.added) added.push(c);
    return { of: lid, triangles: Uint32Array.from(cone.triangles) };
  });
  const positions = new Float32Array(part.positions.length + added.length);
  positions.set(part.positions);
  positions.set(added, part.positions.length);
  return { positions, added: NOTHING_ADDED, patches: [...part.patches, ...cones] };
}

/** The triangles whose mark is one that `isMeant`. */
function pickedBy(
  triangles: Uint32Array,
  marks: Uint8Array,
  isMeant: (mark: number) => boolean,
): Uint32Array {
  const meant = Uint8Array.from({ length: MOST_PIECES + 1 }, (_, mark) => (isMeant(mark) ? 1 : 0));
  const picked = new Uint32Array(triangles.length);
  let to = 0;
  for (let k = 0, at = 0; at < triangles.length; k++, at += 3) {
    if (meant[marks[k]] === 0) continue;
    picked[to++] = triangles[at];
    picked[to++] = triangles[at + 1];
    picked[to++] = triangles[at + 2];
  }
  return picked.slice(0, to);
}
