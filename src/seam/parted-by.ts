import type { Plane } from '../math/plane.ts';
import { type Vertices, vertexCount } from '../mesh/part/vertices.ts';

/** Triangles with a corner behind a plane, and the others. */
export interface Parted {
  plane: Plane;
  near: Uint32Array;
  /** Made when it is first asked for: what is not put back has no use for it. */
  readonly far: Uint32Array;
}

/** Kept as long as the triangles are, for the last plane: while a peg moves, the skin is parted once. */
const known = new WeakMap<Uint32Array, Parted>();

/** A patch's triangles parted by a plane. */
export function partedBy(plane: Plane, vertices: Vertices, triangles: Uint32Array): Parted {
  const last = known.get(triangles);
  if (last && isSamePlane(last.plane, plane)) return last;
  const parted = Object.assign(partTriangles(triangles, verticesBehind(plane, vertices)), { plane });
  known.set(triangles, parted);
  return parted;
}

const isSamePlane = (a: Plane, b: Plane): boolean =>
  a.offset === b.offset && a.normal.every((value, k) => value === b.normal[k]);

/** 1 for each vertex behind the plane. */
export function verticesBehind({ normal, offset }: Plane, vertices: Vertices): Uint8Array {
  const isBehind = new Uint8Array(vertexCount(vertices));
  const [x, y, z] = normal;
  let v = 0;
  for (const p of [vertices.positions, vertices.added]) {
    for (let i = 0; i < p.length; i += 3, v++) {
      if (x * p[i] + y * p[i + 1] + z * p[i + 2] < offset) isBehind[v] = 1;
    }
  }
  return isBehind;
}

function partTriangles(triangles: Uint32Array, isBehind: Uint8Array): Pick<Parted, 'near' | 'far'> {
  // Asked once: corners lie all over the memory, and what is kept of each triangle does not.
  const isNear = new Uint8Array(triangles.length / 3);
  let count = 0;
  for (let t = 0, i = 0; t < isNear.length; t++, i += 3) {
    isNear[t] = isBehind[triangles[i]] | isBehind[triangles[i + 1]] | isBehind[triangles[i + 2]];
    count += isNear[t];
  }
  let far: Uint32Array | null = null;
  return {
    near: picked(triangles, isNear, 1, count),
    get far() {
      far ??= picked(triangles, isNear, 0, isNear.length - count);
      return far;
    },
  };
}

/** The triangles that are marked so, `count` of them. */
function picked(triangles: Uint32Array, marks: Uint8Array, mark: number, count: number): Uint32Array {
  const found = new Uint32Array(count * 3);
  for (let t = 0, i = 0, to = 0; t < marks.length; t++, i += 3) {
    if (marks[t] !== mark) continue;
    found[to++] = triangles[i];
    found[to++] = triangles[i + 1];
    found[to++] = triangles[i + 2];
  }
  return found;
}
