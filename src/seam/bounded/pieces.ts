import type { Plane } from '../../math/plane.ts';
import type { Part } from '../../mesh/part/part.ts';
import { flatFacesFront } from '../../mesh/plane/crossing.ts';
import type { Trace, TracedRun } from '../../mesh/plane/trace.ts';
import { type Clusters, chunkAt, chunkRange, clustersOf, NONE } from '../../mesh/topology/clusters.ts';
import { joinShells, rootOf } from '../../mesh/topology/shells.ts';

/** Rims of the outlines that are cut, as bits. */
export const FRONT = 1;
export const BACK = 2;

/** The outlines that are cut go through this vertex. */
const ON_CUT = NONE;

/** A vertex of a piece, and which rims of the cut its triangle has: `FRONT` or `BACK`. */
interface Rim {
  vertex: number;
  of: number;
}

/**
 * The pieces a part's surface falls into where some of a plane's outlines are cut. Chunks that those do not pass through
 * count as the clusters they are; triangles are looked at singly in the others alone.
 */
export class Pieces {
  readonly clusters: Clusters;
  /** 1 for each chunk with a triangle that touches the plane. */
  readonly met: Uint8Array;
  /** 1 for each chunk with a triangle that touches an outline to be cut. */
  readonly open: Uint8Array;
  /** Vertices of the open chunks but for those that are cut through. */
  readonly openVertices: Uint32Array;
  /** What of the cut's rims each piece has, triangle by triangle. */
  readonly rims: readonly Rim[];
  /** Over the clusters, then over the open vertices. */
  readonly #parents: Uint32Array;
  /** Per vertex of an open chunk, one more than its number among them; `ON_CUT` for those that are cut through. */
  readonly #numbers: Uint32Array;
  #used = 0;
  readonly #rims: Uint8Array;
  /** 1 for each cluster of an open chunk. */
  readonly #isOpen: Uint8Array;

  /** @param isCut 1 for each of the trace's ids that lies on an outline to be cut. */
  constructor(part: Part, plane: Plane, trace: Trace, isCut: Uint8Array) {
    const clusters = clustersOf(part);
    this.clusters = clusters;
    this.met = new Uint8Array(clusters.starts.length - 1);
    this.open = new Uint8Array(clusters.starts.length - 1);
    markChunks(clusters, trace, isCut, this.met, this.open);
    this.#isOpen = openClusters(clusters, this.open);
    this.#numbers = new Uint32Array(trace.ownCount);
    markCut(trace, isCut, this.#numbers);
    const count = clusters.sizes.length;
    const room = this.open.reduce((n, is) => n + is, 0) * 768;
    this.openVertices = new Uint32Array(Math.min(room, trace.ownCount));
    this.#parents = new Uint32Array(count + this.openVertices.length);
    for (let c = 0; c < count; c++) this.#parents[c] = c;
    this.rims = trace.runs.flatMap((run, r) => this.#joinRun(run, r, plane, trace, isCut));
    this.openVertices = this.openVertices.subarray(0, this.#used);
    this.#joinClusters();
    this.#rims = new Uint8Array(count + this.#used);
    for (const { vertex, of } of this.rims) this.#rims[this.of(vertex)] |= of;
  }

  /** The piece a vertex is of, as a number below `limit`; not for vertices that are cut through. */
  of(vertex: number): number {
    const number = this.#numbers[vertex];
    return rootOf(
      this.#parents,
      number > 0 ? this.clusters.sizes.length + number - 1 : this.clusters.homes[vertex],
    );
  }

  /** The piece a cluster that is not open is of. */
  ofCluster(cluster: number): number {
    return rootOf(this.#parents, cluster);
  }

  /** The piece that all of a chunk is of; −1 where it is open or of several. */
  ofChunk(chunk: number): number {
    if (this.open[chunk] === 1) return -1;
    const { starts } = this.clusters;
    const piece = this.ofCluster(starts[chunk]);
    for (let c = starts[chunk] + 1; c < starts[chunk + 1]; c++) if (this.ofCluster(c) !== piece) return -1;
    return piece;
  }

  /** True where a chunk has something of the pieces that are marked by 1, none of which is cut: those have all of a cluster or nothing. */
  hasSome(chunk: number, isMarked: Uint8Array): boolean {
    const { starts, samples } = this.clusters;
    for (let c = starts[chunk]; c < starts[chunk + 1]; c++) {
      if (!this.isOnCut(samples[c]) && isMarked[this.of(samples[c])] === 1) return true;
    }
    return false;
  }

  /** One more than the greatest number of a piece. */
  get limit(): number {
    return this.#rims.length;
  }

  /** True for a vertex that is cut through. */
  isOnCut(vertex: number): boolean {
    return this.#numbers[vertex] === ON_CUT;
  }

  /** Which rims of the cut a piece has. */
  rimsOf(piece: number): number {
    return this.#rims[piece];
  }

  /** A vertex's number in the forest, given now if it had none. */
  #elementOf(vertex: number): number {
    const { sizes, homes } = this.clusters;
    const known = this.#numbers[vertex];
    if (known > 0) return sizes.length + known - 1;
    this.openVertices[this.#used] = vertex;
    this.#numbers[vertex] = ++this.#used;
    const element = sizes.length + this.#used - 1;
    this.#parents[element] = element;
    const home = homes[vertex];
    if (this.#isOpen[home] === 0) joinShells(this.#parents, home, element);
    return element;
  }

  /** Joins the corners of a run's triangles in open chunks; answers the rims met on the way. */
  #joinRun(
    { triangles, at, sides }: TracedRun,
    r: number,
    plane: Plane,
    trace: Trace,
    isCut: Uint8Array,
  ): Rim[] {
    const { chunks } = this.clusters;
    const rims: Rim[] = [];
    let m = 0;
    for (let chunk = chunks[r]; chunk < chunks[r + 1]; chunk++) {
      if (this.open[chunk] === 0) continue;
      const [from, end] = chunkRange(triangles, chunk - chunks[r]);
      while (at[m] < from) m++;
      for (let i = from; i < end; i += 3) {
        const isMixed = at[m] === i;
        if (isMixed) this.#joinMixed(triangles, i, sides, m * 3, plane, trace, isCut, rims);
        else this.#join(triangles[i], triangles[i + 1], triangles[i + 2]);
        if (isMixed) m++;
      }
    }
    return rims;
  }

  #join(a: number, b: number, c: number): void {
    const first = this.#elementOf(a);
    joinShells(this.#parents, first, this.#elementOf(b));
    joinShells(this.#parents, first, this.#elementOf(c));
  }

  /** Joins the corners of a triangle that touches the plane, each side's alone where it is cut; adds the rims it has. */
  #joinMixed(
    t: Uint32Array,
    i: number,
    sides: Int8Array,
    s: number,
    plane: Plane,
    trace: Trace,
    isCut: Uint8Array,
    rims: Rim[],
  ): void {
    const isDivided = crossesCut(t, i, sides, s, trace, isCut);
    let ahead = -1;
    let behind = -1;
    let free = 0;
    for (let k = 0; k < 3; k++) {
      const v = t[i + k];
      if (this.isOnCut(v)) continue;
      free++;
      const side = isDivided ? sides[s + k] : 1;
      if (side > 0) {
        this.#joinTwo(ahead, v);
        ahead = v;
      } else if (side < 0) {
        this.#joinTwo(behind, v);
        behind = v;
      }
    }
    if (isDivided) rims.push({ vertex: ahead, of: FRONT }, { vertex: behind, of: BACK });
    else if (free === 1 || free === 2) {
      const sum = sides[s] + sides[s + 1] + sides[s + 2];
      const isAhead = sum === 0 ? !flatFacesFront(trace.vertices, t.subarray(i, i + 3), plane) : sum > 0;
      rims.push({ vertex: ahead, of: isAhead ? FRONT : BACK });
    }
  }

  /** Joins a vertex to another one, if there is one. */
  #joinTwo(other: number, vertex: number): void {
    const element = this.#elementOf(vertex);
    if (other >= 0) joinShells(this.#parents, this.#elementOf(other), element);
  }

  /** Joins clusters that share a vertex, but for those that are open: their vertices stand for themselves. */
  #joinClusters(): void {
    const { pairs, visits, visitStarts } = this.clusters;
    const isOpen = this.#isOpen;
    for (let i = 0; i < pairs.length; i += 2) {
      const home = pairs[i];
      const cluster = pairs[i + 1];
      if ((isOpen[home] | isOpen[cluster]) === 0) joinShells(this.#parents, home, cluster);
    }
    for (let home = 0; home < isOpen.length; home++) {
      if (isOpen[home] === 0) continue;
      for (let i = visitStarts[home]; i < visitStarts[home + 1]; i += 2) {
        if (isOpen[visits[i + 1]] === 0) joinShells(this.#parents, this.#elementOf(visits[i]), visits[i + 1]);
      }
    }
  }
}

/** Only vertices on the plane can be cut through: corners of triangles that touch it. */
function markCut({ runs, side }: Trace, isCut: Uint8Array, numbers: Uint32Array): void {
  for (const { triangles, at } of runs) {
    for (let m = 0; m < at.length; m++) {
      for (let i = at[m]; i < at[m] + 3; i++) {
        if (side[triangles[i]] === 0 && isCut[triangles[i]] === 1) numbers[triangles[i]] = ON_CUT;
      }
    }
  }
}

/** Marks the chunks that the plane meets, and those that an outline to be cut passes through. */
function markChunks(
  { chunks }: Clusters,
  trace: Trace,
  isCut: Uint8Array,
  met: Uint8Array,
  open: Uint8Array,
): void {
  trace.runs.forEach(({ triangles: t, at, sides }, r) => {
    for (let m = 0; m < at.length; m++) {
      const chunk = chunks[r] + chunkAt(at[m]);
      met[chunk] = 1;
      if (open[chunk] === 1) continue;
      if (touchesCut(t, at[m], sides, m * 3, isCut) || crossesCut(t, at[m], sides, m * 3, trace, isCut))
        open[chunk] = 1;
    }
  });
}

/** True where an outline to be cut goes through a corner of a triangle. */
function touchesCut(t: Uint32Array, i: number, sides: Int8Array, s: number, isCut: Uint8Array): boolean {
  for (let k = 0; k < 3; k++) if (sides[s + k] === 0 && isCut[t[i + k]] === 1) return true;
  return false;
}

/** True where an outline to be cut crosses an edge of a triangle. */
function crossesCut(
  t: Uint32Array,
  i: number,
  sides: Int8Array,
  s: number,
  trace: Trace,
  isCut: Uint8Array,
): boolean {
  for (let k = 0; k < 3; k++) {
    const l = k === 2 ? 0 : k + 1;
    if (sides[s + k] * sides[s + l] < 0 && isCut[trace.cutVertex(t[i + k], t[i + l])] === 1) return true;
  }
  return false;
}

function openClusters({ starts, sizes }: Clusters, open: Uint8Array): Uint8Array {
  const isOpen = new Uint8Array(sizes.length);
  for (let chunk = 0; chunk < open.length; chunk++) {
    if (open[chunk] === 1) isOpen.fill(1, starts[chunk], starts[chunk + 1]);
  }
  return isOpen;
}
