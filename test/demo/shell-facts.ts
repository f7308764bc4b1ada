import type { Mesh } from '../../src/mesh/mesh.ts';

/** Facts about meshes, counted here by plain means and nothing of the engine's. */

export interface ShellFacts {
  vertices: number[];
  faces: number;
  /** V − E + F. */
  euler: number;
  volumeMm3: number;
}

/** Edges that are not met exactly once in each direction. */
export function badEdgeCount({ positions, triangles }: Mesh): number {
  const vertexCount = positions.length / 3;
  const directed = new Map<number, number>();
  for (let i = 0; i < triangles.length; i++) {
    const to = triangles[i % 3 === 2 ? i - 2 : i + 1];
    const key = triangles[i] * vertexCount + to;
    directed.set(key, (directed.get(key) ?? 0) + 1);
  }
  let bad = 0;
  for (const [key, count] of directed) {
    const back = (key % vertexCount) * vertexCount + Math.floor(key / vertexCount);
    if (count !== 1 || directed.get(back) !== 1) bad++;
  }
  return bad;
}

/** Connected shells in the order of their first vertex. On a closed mesh E = 3 F / 2. */
export function shellFacts({ positions: p, triangles: t }: Mesh): ShellFacts[] {
  const shellOf = labelShells(p.length / 3, t);
  const shells: ShellFacts[] = [];
  const find = (v: number): ShellFacts => {
    shells[shellOf[v]] ??= { vertices: [], faces: 0, euler: 0, volumeMm3: 0 };
    return shells[shellOf[v]];
  };
  for (let v = 0; v < p.length / 3; v++) find(v).vertices.push(v);
  for (let i = 0; i < t.length; i += 3) {
    const shell = find(t[i]);
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    shell.faces++;
    shell.volumeMm3 +=
      (p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
        p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
        p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c])) /
      6;
  }
  for (const shell of shells) shell.euler = shell.vertices.length - shell.faces / 2;
  return shells;
}

/** Number of the shell each vertex belongs to, by flooding along edges. */
function labelShells(vertexCount: number, t: Uint32Array): Int32Array {
  const neighbours: number[][] = Array.from({ length: vertexCount }, () => []);
  for (let i = 0; i < t.length; i++) neighbours[t[i]].push(t[i % 3 === 2 ? i - 2 : i + 1]);
  const label = new Int32Array(vertexCount).fill(-1);
  let next = 0;
  for (let start = 0; start < vertexCount; start++) {
    if (label[start] >= 0) continue;
    const stack = [start];
    label[start] = next;
    for (let v = stack.pop(); v !== undefined; v = stack.pop()) {
      for (const w of neighbours[v]) {
        if (label[w] >= 0) continue;
        label[w] = next;
        stack.push(w);
      }
    }
    next++;
  }
  return label;
}

/** Least distance between vertices of different shells, if it is below `reach`; else `reach`. mm. */
export function shellClearance({ positions: p }: Mesh, shells: readonly ShellFacts[], reach: number): number {
  const cells = new Map<string, { v: number; shell: number }[]>();
  const cellOf = (v: number, k: number) => Math.floor(p[v * 3 + k] / reach);
  shells.forEach(({ vertices }, shell) => {
    for (const v of vertices) {
      const key = `${cellOf(v, 0)},${cellOf(v, 1)},${cellOf(v, 2)}`;
      const cell = cells.get(key);
      if (cell) cell.push({ v, shell });
      else cells.set(key, [{ v, shell }]);
    }
  });
  let least = reach;
  shells.forEach(({ vertices }, shell) => {
    if (shell === 0) return;
    for (const v of vertices) {
      for (const [dx, dy, dz] of AROUND) {
        for (const other of cells.get(`${cellOf(v, 0) + dx},${cellOf(v, 1) + dy},${cellOf(v, 2) + dz}`) ??
          []) {
          if (other.shell === shell) continue;
          const w = other.v * 3;
          least = Math.min(
            least,
            Math.hypot(p[v * 3] - p[w], p[v * 3 + 1] - p[w + 1], p[v * 3 + 2] - p[w + 2]),
          );
        }
      }
    }
  });
  return least;
}

const AROUND = [-1, 0, 1].flatMap((x) =>
  [-1, 0, 1].flatMap((y) => [-1, 0, 1].map((z) => [x, y, z] as const)),
);

/** Area of the smallest triangle, mm². */
export function leastArea({ positions: p, triangles: t }: Mesh): number {
  let least = Infinity;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    const u = [0, 1, 2].map((k) => p[b + k] - p[a + k]);
    const v = [0, 1, 2].map((k) => p[c + k] - p[a + k]);
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    least = Math.min(least, Math.hypot(...n) / 2);
  }
  return least;
}
