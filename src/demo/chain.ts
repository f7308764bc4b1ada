import type { Box } from './field.ts';
import { clamp01, length3 } from './sdf.ts';

/** A place on a limb's axis: x, y, z and the limb's radius there, mm. */
export type Node = readonly [x: number, y: number, z: number, radius: number];

/** A limb of varying thickness along a smooth curve. */
export interface Chain {
  box: Box;
  lengthMm: number;
  /**
   * Signed distance to the limb's skin, mm. Leaves `at`, `radius` and `offset` describing the nearest
   * axis point, and answers a question repeated at once from memory.
   */
  distance(x: number, y: number, z: number): number;
  /** Arc length from the first node to the axis point nearest to the last one asked about, mm. */
  at: number;
  /** Radius there, mm. */
  radius: number;
  /** From that axis point to the point asked about. */
  offset: [number, number, number];
}

/** A curve through the nodes (centripetal enough for near-even spacing), `steps` pieces from node to node. */
export function makeChain(nodes: readonly Node[], steps = 6): Chain {
  const path = nodes.length > 2 ? sampleCurve(nodes, steps) : Float64Array.from(nodes.flat());
  const count = path.length / 4;
  const arc = new Float64Array(count);
  for (let i = 1; i < count; i++) {
    const [a, b] = [(i - 1) * 4, i * 4];
    arc[i] = arc[i - 1] + Math.hypot(path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]);
  }
  const spans = makeSpans(path);
  const hit: Hit = { distance: Infinity, piece: 0, t: 0 };
  const asked: [number, number, number] = [Number.NaN, 0, 0];
  const chain: Chain = {
    box: boxOf(path),
    lengthMm: arc[count - 1],
    at: 0,
    radius: 0,
    offset: [0, 0, 0],
    distance(x, y, z) {
      if (x === asked[0] && y === asked[1] && z === asked[2]) return hit.distance;
      asked[0] = x;
      asked[1] = y;
      asked[2] = z;
      findNearest(path, spans, x, y, z, hit);
      describe(chain, path, arc, hit, asked);
      return hit.distance;
    },
  };
  return chain;
}

/** Sphere round a run of pieces: centre and a radius that holds the limb itself. */
interface Span {
  first: number;
  end: number;
  x: number;
  y: number;
  z: number;
  reach: number;
  /** Least distance the span can have from the point being asked about. */
  bound: number;
}

/** Pieces that are passed over together when they are too far. */
const SPAN_PIECES = 6;

function makeSpans(path: Float64Array): Span[] {
  const spans: Span[] = [];
  const pieces = path.length / 4 - 1;
  for (let first = 0; first < pieces; first += SPAN_PIECES) {
    const end = Math.min(pieces, first + SPAN_PIECES);
    const [p, q] = [first * 4, end * 4];
    const [x, y, z] = [0, 1, 2].map((k) => (path[p + k] + path[q + k]) / 2);
    let reach = 0;
    for (let i = p; i <= q; i += 4) {
      reach = Math.max(reach, Math.hypot(path[i] - x, path[i + 1] - y, path[i + 2] - z) + path[i + 3]);
    }
    spans.push({ first, end, x, y, z, reach, bound: 0 });
  }
  return spans;
}

/** The nearest point found so far: its piece (as an index into the path), its place on it, the distance to the skin. */
interface Hit {
  distance: number;
  piece: number;
  t: number;
}

function findNearest(
  path: Float64Array,
  spans: readonly Span[],
  x: number,
  y: number,
  z: number,
  hit: Hit,
): void {
  let closest = spans[0];
  let least = Infinity;
  for (const span of spans) {
    span.bound = length3(x - span.x, y - span.y, z - span.z) - span.reach;
    if (span.bound >= least) continue;
    least = span.bound;
    closest = span;
  }
  hit.distance = Infinity;
  searchSpan(path, closest, x, y, z, hit);
  for (const span of spans)
    if (span !== closest && span.bound < hit.distance) searchSpan(path, span, x, y, z, hit);
}

function searchSpan(path: Float64Array, span: Span, x: number, y: number, z: number, hit: Hit): void {
  for (let i = span.first * 4; i < span.end * 4; i += 4) {
    const dx = path[i + 4] - path[i];
    const dy = path[i + 5] - path[i + 1];
    const dz = path[i + 6] - path[i + 2];
    const px = x - path[i];
    const py = y - path[i + 1];
    const pz = z - path[i + 2];
    const along = (px * dx + py * dy + pz * dz) / (dx * dx + dy * dy + dz * dz);
    const t = clamp01(along);
    const d = length3(px - t * dx, py - t * dy, pz - t * dz) - path[i + 3] - t * (path[i + 7] - path[i + 3]);
    if (d >= hit.distance) continue;
    hit.distance = d;
    hit.piece = i;
    hit.t = t;
  }
}

function describe(chain: Chain, path: Float64Array, arc: Float64Array, hit: Hit, p: readonly number[]): void {
  const { piece: i, t } = hit;
  chain.at = arc[i / 4] + t * (arc[i / 4 + 1] - arc[i / 4]);
  chain.radius = path[i + 3] + t * (path[i + 7] - path[i + 3]);
  for (let k = 0; k < 3; k++) chain.offset[k] = p[k] - path[i + k] - t * (path[i + 4 + k] - path[i + k]);
}

function sampleCurve(nodes: readonly Node[], steps: number): Float64Array {
  const out: number[] = [];
  const node = (i: number): Node => nodes[Math.min(nodes.length - 1, Math.max(0, i))];
  for (let i = 0; i + 1 < nodes.length; i++) {
    for (let s = 0; s < steps; s++) {
      const t = s / steps;
      for (let k = 0; k < 4; k++)
        out.push(cubic(node(i - 1)[k], node(i)[k], node(i + 1)[k], node(i + 2)[k], t));
    }
  }
  out.push(...node(nodes.length - 1));
  return Float64Array.from(out);
}

/** The Catmull-Rom cubic from `b` at t = 0 to `c` at t = 1. */
function cubic(a: number, b: number, c: number, d: number, t: number): number {
  return b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));
}

function boxOf(path: Float64Array): Box {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < path.length; i += 4) {
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], path[i + k] - path[i + 3]);
      high[k] = Math.max(high[k], path[i + k] + path[i + 3]);
    }
  }
  return [low[0], low[1], low[2], high[0], high[1], high[2]];
}
