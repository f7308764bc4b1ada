import type { PlaneFrame } from '../../math/plane.ts';
import type { Vec3 } from '../../math/vec3.ts';
import { rayHits } from '../../mesh/near/ray-hits.ts';
import type { Part } from '../../mesh/part/part.ts';
import { allPositions, coordinate } from '../../mesh/part/vertices.ts';
import type { Trace } from '../../mesh/plane/trace.ts';
import { chunkMoments, chunkRange } from '../../mesh/topology/clusters.ts';
import type { Pieces } from './pieces.ts';

/** A shell that no outline to be cut goes through. */
interface LooseShell {
  /** Its number among the pieces. */
  piece: number;
  /** A vertex of it off the plane. */
  vertex: number;
  isAhead: boolean;
  isBehind: boolean;
  /** Six times what it has more in front of the plane than behind, mm³; where it is on both sides. */
  lean: number;
}

/**
 * Gives the shells that no cut outline goes through their side (in `sideOf`, 1 or −1 by piece), whole: one that lies
 * within another (a hollow, what is in a hollow) goes with what is around it, any other to where most of its volume lies.
 */
export function settleLoose(
  part: Part,
  frame: PlaneFrame,
  trace: Trace,
  pieces: Pieces,
  sideOf: Int8Array,
): void {
  const shells = looseShells(trace, pieces, sideOf);
  if ([...shells.values()].some(({ isAhead, isBehind }) => isAhead && isBehind))
    weigh(part, frame, trace, pieces, shells);
  const runs = part.patches.map(({ triangles }) => triangles);
  const settle = (shell: LooseShell): number => {
    if (sideOf[shell.piece] !== 0) return sideOf[shell.piece];
    const alone = shell.isAhead && shell.isBehind ? (shell.lean < 0 ? -1 : 1) : shell.isBehind ? -1 : 1;
    sideOf[shell.piece] = alone;
    const around = pieceAround(shell);
    if (around === null) return alone;
    const other = shells.get(around);
    sideOf[shell.piece] = other ? settle(other) : sideOf[around];
    return sideOf[shell.piece];
  };
  const pieceAround = ({ piece, vertex }: LooseShell): number | null => {
    const from = [0, 1, 2].map((k) => coordinate(part, vertex, k)) as unknown as Vec3;
    const hits = rayHits(part, runs, from, frame, trace.side[vertex] > 0 ? 1 : -1).map((hit) => ({
      ...hit,
      piece: pieces.of(hit.farthest),
    }));
    return enclosing(hits, piece, shells);
  };
  for (const shell of shells.values()) settle(shell);
}

/** The nearest piece that is left along a ray more often than it is entered, of the cut shells taken together first; null where none encloses. */
function enclosing(
  hits: readonly { piece: number; distance: number; leaves: boolean }[],
  own: number,
  shells: ReadonlyMap<number, LooseShell>,
): number | null {
  const depths = new Map<number, number>();
  /** Pieces of cut shells count as one solid. */
  const keyOf = (piece: number) => (shells.has(piece) ? piece : -1);
  const others = hits.filter(({ piece }) => piece !== own).sort((a, b) => a.distance - b.distance);
  for (const { piece, leaves } of others)
    depths.set(keyOf(piece), (depths.get(keyOf(piece)) ?? 0) + (leaves ? 1 : -1));
  const encloses = ({ piece }: { piece: number }) => depths.get(keyOf(piece)) !== 0;
  const cut = others.find((hit) => hit.leaves && !shells.has(hit.piece) && encloses(hit));
  return (cut ?? others.find(encloses))?.piece ?? null;
}

function looseShells({ side, runs }: Trace, pieces: Pieces, sideOf: Int8Array): Map<number, LooseShell> {
  const shells = new Map<number, LooseShell>();
  const { chunks, starts, samples } = pieces.clusters;
  /** 1 for each piece without a side of which it is not known yet that it lies on both. */
  const isOpen = Uint8Array.from(sideOf, (is) => (is === 0 ? 1 : 0));
  const note = (piece: number, vertex: number) => {
    if (isOpen[piece] === 0) return;
    let shell = shells.get(piece);
    if (!shell) {
      shell = { piece, vertex, isAhead: false, isBehind: false, lean: 0 };
      shells.set(piece, shell);
    }
    if (side[vertex] !== 0) shell.vertex = vertex;
    if (side[vertex] > 0) shell.isAhead = true;
    if (side[vertex] < 0) shell.isBehind = true;
    if (shell.isAhead && shell.isBehind) isOpen[piece] = 0;
  };
  runs.forEach(({ triangles }, r) => {
    for (let chunk = chunks[r]; chunk < chunks[r + 1]; chunk++) {
      if (!pieces.hasSome(chunk, isOpen)) continue;
      if (pieces.met[chunk] === 0) {
        for (let c = starts[chunk]; c < starts[chunk + 1]; c++) note(pieces.ofCluster(c), samples[c]);
        continue;
      }
      const [from, end] = chunkRange(triangles, chunk - chunks[r]);
      for (let i = from; i < end; i++)
        if (!pieces.isOnCut(triangles[i])) note(pieces.of(triangles[i]), triangles[i]);
    }
  });
  return shells;
}

/** Adds up what shells that lie on both sides have in front of the plane less what they have behind. */
function weigh(
  part: Part,
  frame: PlaneFrame,
  { runs, side }: Trace,
  pieces: Pieces,
  shells: ReadonlyMap<number, LooseShell>,
): void {
  const { chunks } = pieces.clusters;
  const positions = allPositions(part);
  const sums = chunkMoments(part);
  const [ox, oy, oz] = frame.origin;
  const leans = new Float64Array(pieces.limit);
  const isWeighed = new Uint8Array(pieces.limit);
  for (const { piece, isAhead, isBehind } of shells.values()) if (isAhead && isBehind) isWeighed[piece] = 1;
  runs.forEach(({ triangles }, r) => {
    for (let chunk = chunks[r]; chunk < chunks[r + 1]; chunk++) {
      if (!pieces.hasSome(chunk, isWeighed)) continue;
      const [from, end] = chunkRange(triangles, chunk - chunks[r]);
      const piece = pieces.ofChunk(chunk);
      if (piece >= 0 && pieces.met[chunk] === 0) {
        // What the plane does not meet lies on one side of it.
        const at = chunk * 4;
        const six = sums[at] - ox * sums[at + 1] - oy * sums[at + 2] - oz * sums[at + 3];
        leans[piece] += side[triangles[from]] * six;
        continue;
      }
      for (let i = from; i < end; i += 3) {
        const v = triangles[i];
        if (pieces.isOnCut(v) || isWeighed[pieces.of(v)] === 0) continue;
        leans[pieces.of(v)] += leanOf(positions, triangles, i, i + 3, frame);
      }
    }
  });
  for (const shell of shells.values()) shell.lean = leans[shell.piece];
}

/**
 * Six times the volume of triangles' cones from a point of the plane, what lies behind the plane counted against what is
 * in front (Mirtich, *J. Graphics Tools* 1(2), 1996).
 */
function leanOf(
  p: Float32Array,
  t: Uint32Array,
  from: number,
  end: number,
  { origin: [ox, oy, oz], n: [nx, ny, nz] }: PlaneFrame,
): number {
  let lean = 0;
  for (let i = from; i < end; i += 3) {
    const u = t[i] * 3;
    const v = t[i + 1] * 3;
    const w = t[i + 2] * 3;
    const ax = p[u] - ox;
    const ay = p[u + 1] - oy;
    const az = p[u + 2] - oz;
    const bx = p[v] - ox;
    const by = p[v + 1] - oy;
    const bz = p[v + 2] - oz;
    const cx = p[w] - ox;
    const cy = p[w + 1] - oy;
    const cz = p[w + 2] - oz;
    const six = ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
    const a = ax * nx + ay * ny + az * nz;
    const b = bx * nx + by * ny + bz * nz;
    const c = cx * nx + cy * ny + cz * nz;
    if (a > 0 && b > 0 && c > 0) lean += six;
    else if (a <= 0 && b <= 0 && c <= 0) lean -= six;
    else lean += six * crossedLean(a, b, c);
  }
  return lean;
}

/** The share of a crossed triangle's cone in front of the plane less that behind, by the heights of its corners. */
function crossedLean(a: number, b: number, c: number): number {
  const isMost = (a > 0 ? 1 : 0) + (b > 0 ? 1 : 0) + (c > 0 ? 1 : 0) === 2;
  // The corner alone on its side of the plane, then the others.
  const [alone, p, q] = a > 0 !== isMost ? [a, b, c] : b > 0 !== isMost ? [b, c, a] : [c, a, b];
  const share = (alone / (alone - p)) * (alone / (alone - q));
  return isMost ? 1 - 2 * share : 2 * share - 1;
}
