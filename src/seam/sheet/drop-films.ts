import { cross, dot, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part, Patch } from '../../mesh/part/part.ts';
import { coordinate, vertexCount } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';

/**
 * A part that the kernel divided, without what has no thickness: where skin lies in a sheet it leaves films of two layers, each
 * a shell by itself, and edges of no length, whose ends are one corner in a file. Lengths in mm.
 */
export function dropFilms(part: Part): Part {
  const welded = withoutShortEdges(part);
  const parents = newShells(vertexCount(welded));
  for (const { triangles } of welded.patches) {
    for (let i = 0; i < triangles.length; i += 3) {
      joinShells(parents, triangles[i], triangles[i + 1]);
      joinShells(parents, triangles[i], triangles[i + 2]);
    }
  }
  const films = filmsAmong(welded, parents);
  return films.size === 0 ? welded : keeping(welded, ([a]) => !films.has(rootOf(parents, a)));
}

/** The shells, by the roots of their corners, that are as thin as rounding. */
function filmsAmong(part: Part, parents: Uint32Array): Set<number> {
  const shells = new Map<number, { areaMm2: number; volumeMm3: number }>();
  const placeOf = (v: number): Vec3 => [0, 1, 2].map((k) => coordinate(part, v, k)) as unknown as Vec3;
  for (const { triangles } of part.patches) {
    for (let i = 0; i < triangles.length; i += 3) {
      const root = rootOf(parents, triangles[i]);
      const from = placeOf(root);
      const [a, b, c] = [0, 1, 2].map((k) => sub(placeOf(triangles[i + k]), from));
      const { areaMm2, volumeMm3 } = shells.get(root) ?? { areaMm2: 0, volumeMm3: 0 };
      shells.set(root, {
        areaMm2: areaMm2 + Math.hypot(...cross(sub(b, a), sub(c, a))) / 2,
        volumeMm3: volumeMm3 + dot(a, cross(b, c)) / 6,
      });
    }
  }
  const thinnest = 4 * snapDistance(part);
  const isFilm = ({ areaMm2, volumeMm3 }: { areaMm2: number; volumeMm3: number }) =>
    2 * Math.abs(volumeMm3) <= thinnest * areaMm2;
  return new Set([...shells].flatMap(([root, shell]) => (isFilm(shell) ? [root] : [])));
}

/** The part with some of its triangles only; patches that have none of them are left out. */
function keeping(part: Part, isKept: (corners: Uint32Array) => boolean): Part {
  const patches = part.patches.flatMap(({ of, triangles }): Patch[] => {
    const kept = new Uint32Array(triangles.length);
    let used = 0;
    for (let i = 0; i < triangles.length; i += 3) {
      const corners = triangles.subarray(i, i + 3);
      if (!isKept(corners)) continue;
      kept.set(corners, used);
      used += 3;
    }
    return used > 0 ? [{ of, triangles: kept.slice(0, used) }] : [];
  });
  return { ...part, patches };
}

/** Ends of edges that lie in one place as one corner; the part as it was where that would leave an edge with more than two triangles. */
function withoutShortEdges(part: Part): Part {
  const parents = newShells(vertexCount(part));
  let isAny = false;
  for (const { triangles } of part.patches) {
    for (let i = 0; i < triangles.length; i++) {
      const [a, b] = [triangles[i], triangles[i % 3 === 2 ? i - 2 : i + 1]];
      if ([0, 1, 2].some((k) => coordinate(part, a, k) !== coordinate(part, b, k))) continue;
      joinShells(parents, a, b);
      isAny = true;
    }
  }
  if (!isAny) return part;
  const patches = part.patches.map(({ of, triangles }) => ({
    of,
    triangles: triangles.map((v) => rootOf(parents, v)),
  }));
  const welded = keeping({ ...part, patches }, ([a, b, c]) => a !== b && b !== c && c !== a);
  return hasSingleEdges(welded) ? welded : part;
}

/** True where no edge is walked twice the same way. */
function hasSingleEdges(part: Part): boolean {
  const walked = new Set<number>();
  const count = vertexCount(part);
  return part.patches.every(({ triangles }) =>
    triangles.every((a, i) => {
      const key = a * count + triangles[i % 3 === 2 ? i - 2 : i + 1];
      return !walked.has(key) && walked.add(key);
    }),
  );
}
