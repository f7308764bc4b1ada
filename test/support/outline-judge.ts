import type { Mesh } from '../../src/mesh/mesh.ts';

/**
 * What a cut of some of a plane's outlines should come to, found out the plain way: every triangle looked at, each
 * step by itself. Shares nothing with the engine. For planes that no vertex lies in, and meshes that are closed.
 */

type Point = readonly [number, number, number];
type Flat = readonly [number, number];

/** The plane n · x = offset, n a unit vector. */
export interface JudgedPlane {
  normal: Point;
  offset: number;
}

/** An outline as a ring of crossed mesh edges, each by its two vertices. */
interface Outline {
  edges: string[];
  points: Point[];
  group: number;
}

export interface Crossed {
  outlines: Outline[];
  groups: number;
  /** The group of each crossed triangle; −1 for the others. */
  groupOf: Int32Array;
  isAhead: Uint8Array;
}

const vertexOf = ({ positions: p }: Mesh, v: number): Point => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]];
const dot = (a: Point, b: Point) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const edgeName = (a: number, b: number) => (a < b ? `${a} ${b}` : `${b} ${a}`);

/** Two directions square to a normal and to each other. */
function across(n: Point): [Point, Point] {
  const [x, y, z] = n;
  const other: Point = Math.abs(x) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const u: Point = [y * other[2] - z * other[1], z * other[0] - x * other[2], x * other[1] - y * other[0]];
  const l = Math.hypot(...u);
  const unit: Point = [u[0] / l, u[1] / l, u[2] / l];
  return [unit, [y * unit[2] - z * unit[1], z * unit[0] - x * unit[2], x * unit[1] - y * unit[0]]];
}

export const flatten = ({ normal }: JudgedPlane, p: Point): Flat => {
  const [u, v] = across(normal);
  return [dot(u, p), dot(v, p)];
};

/** Even and odd. */
export function isWithin(ring: readonly Flat[], [x, y]: Flat): boolean {
  let inside = false;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length];
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) inside = !inside;
  });
  return inside;
}

/** The outlines of a plane, those that lie in one another in one group; null where a vertex is too near the plane. */
export function crossMesh(mesh: Mesh, plane: JudgedPlane): Crossed | null {
  const { positions, triangles: t } = mesh;
  const isAhead = new Uint8Array(positions.length / 3);
  let reach = 0;
  for (let i = 0; i < positions.length; i++) reach = Math.max(reach, Math.abs(positions[i]));
  for (let v = 0; v < isAhead.length; v++) {
    const [x, y, z] = [positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]];
    const height = plane.normal[0] * x + plane.normal[1] * y + plane.normal[2] * z - plane.offset;
    if (Math.abs(height) < reach * 1e-6) return null;
    isAhead[v] = height > 0 ? 1 : 0;
  }
  const neighbours = new Map<string, string[]>();
  const crossedBy = new Map<number, string>();
  for (let i = 0; i < t.length; i += 3) {
    if (isAhead[t[i]] === isAhead[t[i + 1]] && isAhead[t[i]] === isAhead[t[i + 2]]) continue;
    const crossed = [0, 1, 2]
      .map((k) => [t[i + k], t[i + ((k + 1) % 3)]])
      .filter(([a, b]) => isAhead[a] !== isAhead[b])
      .map(([a, b]) => edgeName(a, b));
    crossedBy.set(i / 3, crossed[0]);
    for (const [a, b] of [crossed, [...crossed].reverse()])
      neighbours.set(a, [...(neighbours.get(a) ?? []), b]);
  }
  const outlineOf = new Map<string, number>();
  const outlines: Outline[] = [];
  for (const start of neighbours.keys()) {
    if (outlineOf.has(start)) continue;
    const edges: string[] = [];
    let at: string | undefined = start;
    while (at !== undefined) {
      edges.push(at);
      outlineOf.set(at, outlines.length);
      at = neighbours.get(at)!.find((edge) => !outlineOf.has(edge));
    }
    outlines.push({
      edges,
      points: edges.map((edge) => crossing(mesh, plane, edge)),
      group: outlines.length,
    });
  }
  const flat = outlines.map(({ points }) => points.map((p) => flatten(plane, p)));
  for (let changed = true; changed; ) {
    changed = false;
    outlines.forEach((inner, k) => {
      flat.forEach((ring, j) => {
        const outer = outlines[j];
        if (inner.group === outer.group || !isWithin(ring, flat[k][0])) return;
        const [keep, drop] = [Math.min(inner.group, outer.group), Math.max(inner.group, outer.group)];
        for (const one of outlines) if (one.group === drop) one.group = keep;
        changed = true;
      });
    });
  }
  const numbers = [...new Set(outlines.map(({ group }) => group))];
  for (const one of outlines) one.group = numbers.indexOf(one.group);
  const groupOf = new Int32Array(t.length / 3).fill(-1);
  for (const [triangle, edge] of crossedBy) groupOf[triangle] = outlines[outlineOf.get(edge)!].group;
  return { outlines, groups: numbers.length, groupOf, isAhead };
}

function crossing(mesh: Mesh, { normal, offset }: JudgedPlane, edge: string): Point {
  const [a, b] = edge.split(' ').map((v) => vertexOf(mesh, Number(v)));
  const [ha, hb] = [dot(normal, a) - offset, dot(normal, b) - offset];
  const s = ha / (ha - hb);
  return [a[0] + s * (b[0] - a[0]), a[1] + s * (b[1] - a[1]), a[2] + s * (b[2] - a[2])];
}

/** What becomes of the surface where some groups are cut: each triangle's piece (a cut one has two), and what pieces touch. */
export interface Expected {
  /** Piece of each triangle; of a cut one, of what is in front. */
  ahead: Int32Array;
  /** The same but for cut ones, where it is of what is behind. */
  behind: Int32Array;
  /** By piece: which sides of the cut it has. */
  sides: { front: boolean; back: boolean }[];
}

/** Floods over all triangles from neighbour to neighbour. */
export function floodSurface(mesh: Mesh, crossed: Crossed, chosen: ReadonlySet<number>): Expected {
  const { triangles: t } = mesh;
  const mates = matesOf(mesh);
  const count = t.length / 3;
  const isCut = (i: number) => crossed.groupOf[i] >= 0 && chosen.has(crossed.groupOf[i]);
  /** A triangle's half at one of its corners: twice its number, plus one for what is behind of a cut one. */
  const nodeAt = (i: number, v: number) => i * 2 + (isCut(i) && crossed.isAhead[v] === 0 ? 1 : 0);
  const pieceOf = new Int32Array(count * 2).fill(-1);
  const sides: Expected['sides'] = [];
  for (let node = 0; node < count * 2; node++) {
    if (pieceOf[node] >= 0 || (node % 2 === 1 && !isCut(node >> 1))) continue;
    const piece = sides.push({ front: false, back: false }) - 1;
    const queue = [node];
    pieceOf[node] = piece;
    for (const one of queue) {
      const i = one >> 1;
      if (isCut(i)) sides[piece][one % 2 === 0 ? 'front' : 'back'] = true;
      for (let k = 0; k < 3; k++) {
        for (const v of [t[i * 3 + k], t[i * 3 + ((k + 1) % 3)]]) {
          const next = nodeAt(mates[i * 3 + k], v);
          if (nodeAt(i, v) !== one || pieceOf[next] >= 0) continue;
          pieceOf[next] = piece;
          queue.push(next);
        }
      }
    }
  }
  const ahead = Int32Array.from({ length: count }, (_, i) => pieceOf[i * 2]);
  const behind = Int32Array.from(ahead, (piece, i) => (isCut(i) ? pieceOf[i * 2 + 1] : piece));
  return { ahead, behind, sides };
}

const mates = new WeakMap<Mesh, Int32Array>();

/** The triangle across each edge of a closed mesh. */
function matesOf(mesh: Mesh): Int32Array {
  const known = mates.get(mesh);
  if (known) return known;
  const { triangles: t, positions } = mesh;
  const made = new Int32Array(t.length);
  const waiting = new Map<number, number>();
  for (let i = 0; i < t.length; i++) {
    const [a, b] = [t[i], t[i % 3 === 2 ? i - 2 : i + 1]];
    const other = waiting.get(b * positions.length + a);
    if (other === undefined) waiting.set(a * positions.length + b, i);
    else {
      made[i] = Math.floor(other / 3);
      made[other] = Math.floor(i / 3);
    }
  }
  mates.set(mesh, made);
  return made;
}

const corners = new WeakMap<Mesh, { ids: Map<string, number>; numbers: Map<number, number> }>();

const triangleKey = (a: number, b: number, c: number, base: number) => {
  const [x, y, z] = a < b && a < c ? [a, b, c] : b < c ? [b, c, a] : [c, a, b];
  return (x * base + y) * base + z;
};

/** Vertices of a mesh by place, its triangles by their corners. */
function cornersOf(mesh: Mesh) {
  const known = corners.get(mesh);
  if (known) return known;
  const ids = new Map<string, number>();
  for (let v = 0; v < mesh.positions.length / 3; v++) ids.set(vertexOf(mesh, v).join(), v);
  const numbers = new Map<number, number>();
  const { triangles: t } = mesh;
  for (let i = 0; i < t.length; i += 3)
    numbers.set(triangleKey(t[i], t[i + 1], t[i + 2], mesh.positions.length), i / 3);
  const made = { ids, numbers };
  corners.set(mesh, made);
  return made;
}

/** How often a part has each triangle of a mesh to the bit, by its number there, and how many others it has. No two vertices of `mesh` share a place. */
export function traceTriangles(mesh: Mesh, part: Mesh): { known: Map<number, number>; others: number } {
  const { ids, numbers } = cornersOf(mesh);
  const own = Int32Array.from(
    { length: part.positions.length / 3 },
    (_, v) => ids.get(vertexOf(part, v).join()) ?? -1,
  );
  const known = new Map<number, number>();
  let others = 0;
  for (let i = 0; i < part.triangles.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => own[part.triangles[i + k]]);
    const whole = a >= 0 && b >= 0 && c >= 0;
    const number = whole ? numbers.get(triangleKey(a, b, c, mesh.positions.length)) : undefined;
    if (number === undefined) others++;
    else known.set(number, (known.get(number) ?? 0) + 1);
  }
  return { known, others };
}

/** Edges that are not run through exactly once each way. */
export function faultyEdges({ triangles: t }: Mesh): number {
  const next = (i: number) => t[i % 3 === 2 ? i - 2 : i + 1];
  const base = t.reduce((most, v) => Math.max(most, v), 0) + 1;
  const there = Float64Array.from(t, (v, i) => v * base + next(i)).sort();
  const back = Float64Array.from(t, (v, i) => next(i) * base + v).sort();
  let faulty = 0;
  for (let i = 0; i < there.length; i++) if (there[i] !== back[i] || there[i] === there[i - 1]) faulty++;
  return faulty;
}

/** Pieces that hang together by their vertices. */
export function countShells({ triangles: t, positions }: Mesh): number {
  const root = Int32Array.from({ length: positions.length / 3 }, (_, v) => v);
  const find = (v: number): number => {
    let at = v;
    while (root[at] !== at) at = root[at];
    root[v] = at;
    return at;
  };
  for (let i = 0; i < t.length; i += 3) for (const k of [1, 2]) root[find(t[i + k])] = find(t[i]);
  return new Set(Array.from(t, find)).size;
}
