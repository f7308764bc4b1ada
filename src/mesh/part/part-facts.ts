import type { Vec3 } from '../../math/vec3.ts';
import type { Bounds } from '../measure.ts';
import { edgeKey } from '../topology/edges.ts';
import { joinShells, newShells, rootOf } from '../topology/shells.ts';
import { type Border, borderOf } from './border.ts';
import { compactMesh, type Part, type Patch, usesMost } from './part.ts';

/** What is measured of a finished part. Recentred coordinates, mm. */
export interface PartFacts {
  triangles: number;
  volumeMm3: number;
  areaMm2: number;
  bounds: Bounds;
  /** Edges that are open, shared by more than two triangles, or run through the same way twice. */
  faultyEdges: number;
  shells: number;
}

/** What is measured of one patch. Kept as long as its triangles are: an edit measures only what it made. */
export interface PatchFacts {
  /** Signed volume of the cone from the coordinate origin over the patch, mm³: a closed part's patches sum to its volume. */
  coneMm3: number;
  areaMm2: number;
  bounds: Bounds;
  border: Border;
}

const known = new WeakMap<Uint32Array, PatchFacts>();

/** Measures a part patch by patch, and joins the patches' borders to see whether it is closed. */
export function partFacts(part: Part): PartFacts {
  const patches = part.patches.map((patch) => patchFacts(part, patch));
  const { open, shells } = joinBorders(patches.map(({ border }) => border));
  const sum = (value: (facts: PatchFacts) => number) =>
    patches.reduce((total, facts) => total + value(facts), 0);
  return {
    triangles: part.patches.reduce((n, { triangles }) => n + triangles.length / 3, 0),
    volumeMm3: sum(({ coneMm3 }) => coneMm3),
    areaMm2: sum(({ areaMm2 }) => areaMm2),
    bounds: unite(patches.map(({ bounds }) => bounds)),
    faultyEdges: open + sum(({ border }) => border.faults),
    shells,
  };
}

/** What is measured of one patch of a part. */
export function patchFacts(part: Part, { triangles }: Patch): PatchFacts {
  let facts = known.get(triangles);
  if (!facts) {
    facts = usesMost(part, triangles) ? skinFacts(part, triangles) : lidFacts(part, triangles);
    known.set(triangles, facts);
  }
  return facts;
}

const skinFacts = ({ positions }: Part, triangles: Uint32Array): PatchFacts => ({
  ...measurePatch(positions, triangles),
  border: borderOf({ positions, triangles }),
});

/** Faces, joints and what was worked of a skin use few. */
function lidFacts({ positions, added }: Part, triangles: Uint32Array): PatchFacts {
  const mesh = compactMesh({ positions, triangles }, added);
  const border = borderOf(mesh);
  return {
    ...measurePatch(mesh.positions, mesh.triangles),
    border: { ...border, edges: border.edges.map((v) => mesh.ids[v]) },
  };
}

/** One pass for volume (Mirtich, *J. Graphics Tools* 1(2), 1996), area and box of the vertices used. */
function measurePatch(p: Float32Array, t: Uint32Array): Omit<PatchFacts, 'border'> {
  let six = 0;
  let twice = 0;
  let [x0, y0, z0, x1, y1, z1] = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const ax = p[a];
    const ay = p[a + 1];
    const az = p[a + 2];
    const ux = p[b] - ax;
    const uy = p[b + 1] - ay;
    const uz = p[b + 2] - az;
    const vx = p[c] - ax;
    const vy = p[c + 1] - ay;
    const vz = p[c + 2] - az;
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    six += ax * nx + ay * ny + az * nz;
    twice += Math.sqrt(nx * nx + ny * ny + nz * nz);
    x0 = Math.min(x0, ax, p[b], p[c]);
    y0 = Math.min(y0, ay, p[b + 1], p[c + 1]);
    z0 = Math.min(z0, az, p[b + 2], p[c + 2]);
    x1 = Math.max(x1, ax, p[b], p[c]);
    y1 = Math.max(y1, ay, p[b + 1], p[c + 1]);
    z1 = Math.max(z1, az, p[b + 2], p[c + 2]);
  }
  return { coneMm3: six / 6, areaMm2: twice / 2, bounds: { min: [x0, y0, z0], max: [x1, y1, z1] } };
}

function unite(boxes: readonly Bounds[]): Bounds {
  const fold = (pick: (box: Bounds) => Vec3, choose: (...values: number[]) => number): Vec3 => [
    choose(...boxes.map((box) => pick(box)[0])),
    choose(...boxes.map((box) => pick(box)[1])),
    choose(...boxes.map((box) => pick(box)[2])),
  ];
  return { min: fold((box) => box.min, Math.min), max: fold((box) => box.max, Math.max) };
}

/**
 * Pairs open edges with ones that run the other way; what is left is open in the part too. `shellOf` tells the part's
 * shell that one of a patch's own belongs to.
 */
export function joinBorders(borders: readonly Border[]): {
  open: number;
  shells: number;
  shellOf: (patch: number, shell: number) => number;
} {
  const firstShell: number[] = [];
  let shellCount = 0;
  for (const { shellCount: n } of borders) {
    firstShell.push(shellCount);
    shellCount += n;
  }
  const joined = newShells(shellCount);
  /** Shell by directed edge that waits for its mate. */
  const waiting = new Map<number, number>();
  let doubled = 0;
  borders.forEach(({ edges, shellOf }, patch) => {
    for (let i = 0; i < shellOf.length; i++) {
      const shell = firstShell[patch] + shellOf[i];
      const mate = waiting.get(edgeKey(edges[i * 2 + 1], edges[i * 2]));
      if (mate !== undefined) {
        waiting.delete(edgeKey(edges[i * 2 + 1], edges[i * 2]));
        joinShells(joined, mate, shell);
      } else if (waiting.has(edgeKey(edges[i * 2], edges[i * 2 + 1]))) doubled++;
      else waiting.set(edgeKey(edges[i * 2], edges[i * 2 + 1]), shell);
    }
  });
  const shells = joined.reduce((n, parent, shell) => (parent === shell ? n + 1 : n), 0);
  const shellOf = (patch: number, shell: number) => rootOf(joined, firstShell[patch] + shell);
  return { open: waiting.size + doubled, shells, shellOf };
}
