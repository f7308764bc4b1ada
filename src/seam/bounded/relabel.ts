import type { Trace, TracedRun } from '../../mesh/plane/trace.ts';
import { chunkRange } from '../../mesh/topology/clusters.ts';
import type { Pieces } from './pieces.ts';

/**
 * A trace that a split follows along the outlines that are cut and nowhere else: each vertex is on the side its piece
 * goes to (`sideOf`, 1 or −1 by piece), and on the plane where it is cut through. Takes the trace's sides over.
 */
export function relabel(trace: Trace, pieces: Pieces, sideOf: Int8Array): Trace {
  const { side, runs } = trace;
  const { sizes, samples } = pieces.clusters;
  /** Clusters that go to the other side than they lie on. Those of open chunks do not count. */
  const isTurned = new Uint8Array(sizes.length);
  for (let c = 0; c < sizes.length; c++) {
    if (side[samples[c]] !== sideOf[pieces.ofCluster(c)]) isTurned[c] = 1;
  }
  const { openVertices: open } = pieces;
  for (let i = 0; i < open.length; i++) side[open[i]] = sideOf[pieces.of(open[i])];
  return { ...trace, side, runs: runs.map((run, r) => relabelRun(run, r, side, pieces, sideOf, isTurned)) };
}

function relabelRun(
  { triangles }: TracedRun,
  r: number,
  side: Int8Array,
  pieces: Pieces,
  sideOf: Int8Array,
  isTurned: Uint8Array,
): TracedRun {
  const { chunks, starts, sizes } = pieces.clusters;
  const mixed: number[] = [];
  let frontCount = 0;
  for (let chunk = chunks[r]; chunk < chunks[r + 1]; chunk++) {
    const [from, end] = chunkRange(triangles, chunk - chunks[r]);
    if (pieces.open[chunk] === 1) {
      for (let i = from; i < end; i += 3) {
        const sum = side[triangles[i]] + side[triangles[i + 1]] + side[triangles[i + 2]];
        if (sum === 3) frontCount++;
        else if (sum !== -3) mixed.push(i);
      }
      continue;
    }
    // Where the plane meets what stays whole its vertices are on both sides.
    let turns: number = pieces.met[chunk];
    for (let c = starts[chunk]; c < starts[chunk + 1]; c++) {
      if (sideOf[pieces.ofCluster(c)] > 0) frontCount += sizes[c];
      turns |= isTurned[c];
    }
    if (turns === 0) continue;
    const piece = pieces.ofChunk(chunk);
    for (let i = from; i < end; i++) side[triangles[i]] = sideOf[piece < 0 ? pieces.of(triangles[i]) : piece];
  }
  const backCount = triangles.length / 3 - mixed.length - frontCount;
  const at = Uint32Array.from(mixed);
  const sides = new Int8Array(at.length * 3);
  for (let m = 0; m < sides.length; m++) sides[m] = side[triangles[at[(m / 3) | 0] + (m % 3)]];
  return { triangles, at, sides, frontCount, backCount };
}
