import type { PlaneFrame } from '../../math/plane.ts';
import type { Loop } from '../../math/polygon.ts';
import { dot, type Vec3 } from '../../math/vec3.ts';
import { type BlockTree, blocksOf, blocksWhere } from '../../mesh/near/blocks.ts';
import type { Part } from '../../mesh/part/part.ts';
import { allPositions } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';

/**
 * Closed outlines that a plane makes of a part near a place, for planes that are tried there one after the other. A vertex
 * on the plane counts as in front of it, so that each triangle is passed through from one edge to another, and its way is
 * followed from edge to edge: less work than `crossPlane`, whose outlines a part can be cut along.
 */
export class NearOutlines {
  readonly #part: Part;
  readonly #positions: Float32Array;
  readonly #snap: number;
  /** Of each triangle that is passed: the vertices in front and behind of the edge its way begins at, and of that it ends at. */
  #edges = new Uint32Array(0);
  /** Where it begins, x and y in the frame, mm; and how far that moves as the plane there rises by one. */
  #starts = new Float64Array(0);
  #moves = new Float64Array(0);
  /** By the edge that a way begins at, one more than its number: open addressing. */
  #slots = new Int32Array(0);
  #count = 0;
  /** What following them needs. */
  #path = new Float64Array(0);
  #pathMoves = new Float64Array(0);
  #isDone = new Uint8Array(0);

  constructor(part: Part) {
    this.#part = part;
    this.#snap = snapDistance(part);
    this.#positions = allPositions(part);
  }

  /**
   * Those in a frame's plane, as flat x, y pairs, counter-clockwise around material seen from the front. All that lie no
   * farther than `reachMm` from the frame's origin are among them; of others those that happen to be. With each, in the same
   * way, how far its points move in the frame per mm that the plane rises there: along the edges of the skin they lie on.
   */
  loops(frame: PlaneFrame, reachMm: number): Map<Loop, Float64Array> {
    this.#count = 0;
    const meets = boxMeets(frame, this.#snap, reachMm);
    for (const { triangles } of this.#part.patches) {
      const tree = blocksOf(this.#part, triangles);
      const blocks = blocksWhere(tree, meets);
      this.#makeRoom(this.#count + roomFor(tree, blocks));
      for (let b = 0; b < blocks.length; b++)
        this.#count = this.#pass(
          triangles,
          tree.starts[blocks[b]],
          tree.starts[blocks[b] + 1],
          frame,
          this.#count,
        );
    }
    this.#place(frame);
    this.#number();
    return this.#follow();
  }

  #makeRoom(count: number): void {
    if (count * 4 <= this.#edges.length) return;
    const edges = new Uint32Array(count * 8);
    edges.set(this.#edges);
    this.#edges = edges;
    this.#starts = new Float64Array(count * 4);
    this.#moves = new Float64Array(count * 4);
    this.#pathMoves = new Float64Array(count * 4);
    this.#path = new Float64Array(count * 4);
    this.#isDone = new Uint8Array(count * 2);
  }

  /** Adds the triangles of a block that the plane passes through; answers how many there are now. Written out: it is most of the work. */
  #pass(triangles: Uint32Array, first: number, end: number, frame: PlaneFrame, count: number): number {
    const p = this.#positions;
    const edges = this.#edges;
    const nx = frame.n[0];
    const ny = frame.n[1];
    const nz = frame.n[2];
    const level = dot(frame.n, frame.origin) - this.#snap;
    let used = count;
    for (let i = first; i < end; i += 3) {
      const u = triangles[i] * 3;
      const v = triangles[i + 1] * 3;
      const w = triangles[i + 2] * 3;
      const isA = nx * p[u] + ny * p[u + 1] + nz * p[u + 2] >= level;
      const isB = nx * p[v] + ny * p[v + 1] + nz * p[v + 2] >= level;
      const isC = nx * p[w] + ny * p[w + 1] + nz * p[w + 2] >= level;
      if (isA === isB && isB === isC) continue;
      // As the piece in front runs it leaves the front by one edge and comes back by another.
      const out = isA && !isB ? 0 : isB && !isC ? 1 : 2;
      const back = !isA && isB ? 0 : !isB && isC ? 1 : 2;
      const e = used * 4;
      edges[e] = triangles[i + out];
      edges[e + 1] = triangles[out === 2 ? i : i + out + 1];
      edges[e + 2] = triangles[back === 2 ? i : i + back + 1];
      edges[e + 3] = triangles[i + back];
      used++;
    }
    return used;
  }

  /** Where each way begins: on the edge from a vertex in front to one behind. */
  #place({ origin, u, v, n }: PlaneFrame): void {
    const p = this.#positions;
    const offset = dot(n, origin);
    for (let way = 0; way < this.#count; way++) {
      const f = this.#edges[way * 4] * 3;
      const b = this.#edges[way * 4 + 1] * 3;
      const high = n[0] * p[f] + n[1] * p[f + 1] + n[2] * p[f + 2] - offset;
      const low = n[0] * p[b] + n[1] * p[b + 1] + n[2] * p[b + 2] - offset;
      const ex = p[b] - p[f];
      const ey = p[b + 1] - p[f + 1];
      const ez = p[b + 2] - p[f + 2];
      const share = high > 0 ? high / (high - low) : 0;
      const x = p[f] + share * ex - origin[0];
      const y = p[f + 1] + share * ey - origin[1];
      const z = p[f + 2] + share * ez - origin[2];
      this.#starts[way * 2] = x * u[0] + y * u[1] + z * u[2];
      this.#starts[way * 2 + 1] = x * v[0] + y * v[1] + z * v[2];
      this.#moves[way * 2] = (ex * u[0] + ey * u[1] + ez * u[2]) / (low - high);
      this.#moves[way * 2 + 1] = (ex * v[0] + ey * v[1] + ez * v[2]) / (low - high);
    }
  }

  #number(): void {
    const size = 2 ** Math.ceil(Math.log2(Math.max(8, this.#count * 2)));
    if (this.#slots.length === size) this.#slots.fill(0);
    else this.#slots = new Int32Array(size);
    for (let way = 0; way < this.#count; way++) {
      let slot = slotOf(this.#edges[way * 4], this.#edges[way * 4 + 1], size);
      while (this.#slots[slot] > 0) slot = (slot + 1) & (size - 1);
      this.#slots[slot] = way + 1;
    }
  }

  /** The way that begins where another ends, taken out; −1 where there is none. */
  #takeNext(way: number): number {
    const slots = this.#slots;
    const front = this.#edges[way * 4 + 2];
    const behind = this.#edges[way * 4 + 3];
    let slot = slotOf(front, behind, slots.length);
    for (; slots[slot] !== 0; slot = (slot + 1) & (slots.length - 1)) {
      const next = slots[slot] - 1;
      if (next < 0 || this.#edges[next * 4] !== front || this.#edges[next * 4 + 1] !== behind) continue;
      slots[slot] = TAKEN;
      return next;
    }
    return -1;
  }

  /** Ways are followed to where they began; those that end at the edge of what was looked at are left out. */
  #follow(): Map<Loop, Float64Array> {
    const loops = new Map<Loop, Float64Array>();
    const isDone = this.#isDone.fill(0, 0, this.#count);
    const path = this.#path;
    const moves = this.#pathMoves;
    for (let first = 0; first < this.#count; first++) {
      if (isDone[first] === 1) continue;
      let length = 0;
      let way = first;
      do {
        moves[length] = this.#moves[way * 2];
        path[length++] = this.#starts[way * 2];
        moves[length] = this.#moves[way * 2 + 1];
        path[length++] = this.#starts[way * 2 + 1];
        isDone[way] = 1;
        way = this.#takeNext(way);
      } while (way >= 0 && isDone[way] === 0);
      if (way === first && length >= 6) loops.set(path.slice(0, length), moves.slice(0, length));
    }
    return loops;
  }
}

const roomFor = ({ starts }: BlockTree, blocks: readonly number[]): number =>
  blocks.reduce((n, block) => n + (starts[block + 1] - starts[block]) / 3, 0);

/** In a slot whose way was taken out. */
const TAKEN = -1;

function slotOf(front: number, behind: number, size: number): number {
  const mixed = Math.imul(Math.imul(front, 0x9e3779b1) ^ behind, 0x85ebca6b);
  return (mixed ^ (mixed >>> 15)) & (size - 1);
}

/** Tells whether a box meets a frame's plane no farther than so many mm from its origin. */
function boxMeets(
  { origin, n }: PlaneFrame,
  snap: number,
  reachMm: number,
): (boxes: Float32Array, at: number) => boolean {
  const [nx, ny, nz] = n;
  const offset = dot(n, origin);
  const [ox, oy, oz]: Vec3 = origin;
  const square = reachMm * reachMm;
  // The corners farthest along the normal and against it.
  const [x, y, z] = [nx > 0 ? 0 : 3, ny > 0 ? 1 : 4, nz > 0 ? 2 : 5];
  const [fx, fy, fz] = [3 - x, 5 - y, 7 - z];
  return (boxes, at) => {
    if (nx * boxes[at + x] + ny * boxes[at + y] + nz * boxes[at + z] - offset > snap) return false;
    if (nx * boxes[at + fx] + ny * boxes[at + fy] + nz * boxes[at + fz] - offset < -snap) return false;
    const dx = Math.max(boxes[at] - ox, 0, ox - boxes[at + 3]);
    const dy = Math.max(boxes[at + 1] - oy, 0, oy - boxes[at + 4]);
    const dz = Math.max(boxes[at + 2] - oz, 0, oz - boxes[at + 5]);
    return dx * dx + dy * dy + dz * dz <= square;
  };
}
