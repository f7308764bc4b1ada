import type { Part } from '../part/part.ts';
import { allPositions, type Vertices, vertexCount } from '../part/vertices.ts';
import { joinShells, newShells, rootOf } from './shells.ts';

/** Triangles a chunk holds: with fewer there is more to unite, with more a plane meets more triangles' chunks. */
const CHUNK = 256;

/** No cluster. */
export const NONE = 0xffffffff;

/**
 * The triangles of a part in chunks that stand together in its arrays, and those of each chunk in clusters that hang
 * together by vertices: what is connected to what is found by these alone, but for the chunks that something divides.
 */
export interface Clusters {
  /** Each run's first chunk, and the end of the last. */
  chunks: Uint32Array;
  /** Each chunk's first cluster, and the end of the last. */
  starts: Uint32Array;
  /** Triangles of each cluster. */
  sizes: Uint32Array;
  /** One vertex of each cluster. */
  samples: Uint32Array;
  /** Per vertex, the first cluster that has it; `NONE` for one that no triangle uses. */
  homes: Uint32Array;
  /** Clusters that share a vertex, one of them the vertex's first, two numbers each. */
  pairs: Uint32Array;
  /** Where a vertex is in another cluster than its first as well: the vertex and that cluster, two numbers each, by the first. */
  visits: Uint32Array;
  /** Where each cluster's visits begin, and the end of the last. */
  visitStarts: Uint32Array;
}

const known = new WeakMap<Part['patches'], Clusters>();

/** The clusters of a part. Kept as long as its patches are: building them takes about as long as a cut. */
export function clustersOf(part: Part): Clusters {
  let clusters = known.get(part.patches);
  if (!clusters) {
    clusters = buildClusters(
      part,
      part.patches.map(({ triangles }) => triangles),
    );
    known.set(part.patches, clusters);
  }
  return clusters;
}

/** Where a chunk's triangles begin and end in its run. */
export const chunkRange = (run: Uint32Array, chunkInRun: number): [from: number, end: number] => [
  chunkInRun * CHUNK * 3,
  Math.min(run.length, (chunkInRun + 1) * CHUNK * 3),
];

/** The chunk in its run that a corner is in. */
export const chunkAt = (corner: number): number => Math.floor(corner / (CHUNK * 3));

const moments = new WeakMap<Part['patches'], Float64Array>();

/**
 * Per chunk six times the volume of its triangles' cones from zero, mm³, and the sum of a × b + b × c + c × a over their
 * corners: from another point o the first is less by o · the second. Summed up when first asked for, and kept.
 */
export function chunkMoments(part: Part): Float64Array {
  let known = moments.get(part.patches);
  if (!known) {
    const positions = allPositions(part);
    const { chunks } = clustersOf(part);
    known = new Float64Array(4 * chunks[chunks.length - 1]);
    for (const [r, { triangles }] of part.patches.entries()) {
      for (let chunk = chunks[r]; chunk < chunks[r + 1]; chunk++) {
        const [from, end] = chunkRange(triangles, chunk - chunks[r]);
        addMoments(positions, triangles, from, end, known, chunk * 4);
      }
    }
    moments.set(part.patches, known);
  }
  return known;
}

function addMoments(
  p: Float32Array,
  t: Uint32Array,
  from: number,
  end: number,
  sums: Float64Array,
  at: number,
): void {
  for (let i = from; i < end; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const x = p[a + 1] * p[b + 2] - p[a + 2] * p[b + 1];
    const y = p[a + 2] * p[b] - p[a] * p[b + 2];
    const z = p[a] * p[b + 1] - p[a + 1] * p[b];
    sums[at] += x * p[c] + y * p[c + 1] + z * p[c + 2];
    sums[at + 1] += x + p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1] + p[c + 1] * p[a + 2] - p[c + 2] * p[a + 1];
    sums[at + 2] += y + p[b + 2] * p[c] - p[b] * p[c + 2] + p[c + 2] * p[a] - p[c] * p[a + 2];
    sums[at + 3] += z + p[b] * p[c + 1] - p[b + 1] * p[c] + p[c] * p[a + 1] - p[c + 1] * p[a];
  }
}

function buildClusters(vertices: Vertices, runs: readonly Uint32Array[]): Clusters {
  const builder = new Builder(vertexCount(vertices), runs);
  const chunks = new Uint32Array(runs.length + 1);
  const starts: number[] = [0];
  runs.forEach((run, r) => {
    for (let chunk = 0, end = 0; end < run.length; chunk++) {
      const [from, to] = chunkRange(run, chunk);
      end = to;
      starts.push(builder.add(run, from, end));
    }
    chunks[r + 1] = starts.length - 1;
  });
  return { chunks, starts: Uint32Array.from(starts), ...builder.finish() };
}

class Builder {
  readonly #homes: Uint32Array;
  /** Per vertex, one more than its place among all that chunks have been shown, the latest. */
  readonly #seen: Uint32Array;
  readonly #sizes: number[] = [];
  readonly #samples: number[] = [];
  #visits: Uint32Array;
  #visitsUsed = 0;
  /** Places given to earlier chunks. */
  #before = 0;
  /** Of the chunk at hand: its vertices, a forest over them, and the cluster of each. */
  readonly #vertices = new Uint32Array(CHUNK * 3);
  readonly #parents = newShells(CHUNK * 3);
  readonly #clusterOf = new Uint32Array(CHUNK * 3);

  constructor(vertices: number, runs: readonly Uint32Array[]) {
    this.#homes = new Uint32Array(vertices).fill(NONE);
    this.#seen = new Uint32Array(vertices);
    const corners = runs.reduce((n, { length }) => n + length, 0);
    this.#visits = new Uint32Array(2 * Math.ceil(corners / 12) + 16);
  }

  /** Adds a chunk; answers how many clusters there are then. */
  add(run: Uint32Array, from: number, end: number): number {
    const used = this.#unite(run, from, end);
    const sizes = this.#sizes;
    for (let place = 0; place < used; place++) {
      const root = rootOf(this.#parents, place);
      if (root === place) {
        // A root is never later than what it stands for.
        this.#clusterOf[place] = sizes.length;
        this.#samples.push(this.#vertices[place]);
        sizes.push(0);
      } else this.#clusterOf[place] = this.#clusterOf[root];
      this.#settle(this.#vertices[place], this.#clusterOf[place]);
    }
    for (let i = from; i < end; i += 3) sizes[this.#clusterOf[this.#seen[run[i]] - this.#before - 1]]++;
    this.#before += used;
    return sizes.length;
  }

  /** Joins the corners of each triangle; answers how many vertices the chunk has. */
  #unite(run: Uint32Array, from: number, end: number): number {
    const seen = this.#seen;
    const before = this.#before;
    const parents = this.#parents;
    const vertices = this.#vertices;
    let used = 0;
    let first = 0;
    for (let i = from, k = 0; i < end; i++) {
      const v = run[i];
      let place = seen[v] - before - 1;
      if (place < 0) {
        place = used++;
        vertices[place] = v;
        parents[place] = place;
        seen[v] = before + used;
      }
      if (k === 0) first = place;
      else if (parents[place] !== parents[first]) joinShells(parents, first, place);
      k = k === 2 ? 0 : k + 1;
    }
    return used;
  }

  #settle(vertex: number, cluster: number): void {
    if (this.#homes[vertex] === NONE) {
      this.#homes[vertex] = cluster;
      return;
    }
    if (this.#visitsUsed === this.#visits.length) {
      const grown = new Uint32Array(this.#visits.length * 2);
      grown.set(this.#visits);
      this.#visits = grown;
    }
    this.#visits[this.#visitsUsed++] = cluster;
    this.#visits[this.#visitsUsed++] = vertex;
  }

  finish(): Omit<Clusters, 'chunks' | 'starts'> {
    const homes = this.#homes;
    const sizes = Uint32Array.from(this.#sizes);
    const visited = this.#visits.subarray(0, this.#visitsUsed);
    const visitStarts = new Uint32Array(sizes.length + 1);
    for (let i = 1; i < visited.length; i += 2) visitStarts[homes[visited[i]] + 1] += 2;
    for (let c = 0; c < sizes.length; c++) visitStarts[c + 1] += visitStarts[c];
    const visits = new Uint32Array(visited.length);
    const next = visitStarts.slice();
    for (let i = 0; i < visited.length; i += 2) {
      const at = next[homes[visited[i + 1]]];
      next[homes[visited[i + 1]]] += 2;
      visits[at] = visited[i + 1];
      visits[at + 1] = visited[i];
    }
    const pairs = pairsOf(visits, visitStarts);
    return { sizes, samples: Uint32Array.from(this.#samples), homes, pairs, visits, visitStarts };
  }
}

function pairsOf(visits: Uint32Array, visitStarts: Uint32Array): Uint32Array {
  const pairs: number[] = [];
  /** Per cluster, one more than the home that it was last paired with. */
  const paired = new Uint32Array(visitStarts.length);
  for (let home = 0; home + 1 < visitStarts.length; home++) {
    for (let i = visitStarts[home]; i < visitStarts[home + 1]; i += 2) {
      const cluster = visits[i + 1];
      if (paired[cluster] === home + 1) continue;
      paired[cluster] = home + 1;
      pairs.push(home, cluster);
    }
  }
  return Uint32Array.from(pairs);
}
