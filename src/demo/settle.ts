import { flipEdges } from './flip-edges.ts';
import { type RawMesh, vertexNormals } from './raw-mesh.ts';

type Distance = (x: number, y: number, z: number) => number;

/** Share of the way to the middle of its neighbours that a vertex slides in one round. */
const SLIDE = 0.6;
/** Step of the finite differences that give a field's gradient, mm. */
const GRADIENT_STEP = 0.02;

/**
 * Evens out the triangles and brings every vertex onto the surface: rounds of sliding each vertex
 * within its tangent plane towards its neighbours' middle, then projecting back.
 * Edges are flipped in between. Changes the mesh in place.
 */
export function settle(mesh: RawMesh, distance: Distance, rounds: number, cell: number): void {
  projectAlongGradient(mesh.positions, distance, cell * 0.5);
  for (let round = 0; round < rounds; round++) {
    if (round % 2 === 1) flipEdges(mesh);
    const normals = vertexNormals(mesh);
    slide(mesh, normals);
    projectAlongNormals(mesh, distance, { normals, rounds: 1, longest: cell * 0.5 });
  }
  projectAlongGradient(mesh.positions, distance, cell * 0.5);
}

function slide(mesh: RawMesh, normals: Float32Array): void {
  const { positions: p, triangles: t } = mesh;
  const sums = new Float64Array(p.length);
  const counts = new Uint32Array(p.length / 3);
  for (let i = 0; i < t.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const v = t[i + k];
      const w = t[i + ((k + 1) % 3)];
      // Each edge is met once from either side, so counting the next corner alone counts every neighbour.
      counts[v]++;
      for (let c = 0; c < 3; c++) sums[v * 3 + c] += p[w * 3 + c];
    }
  }
  for (let v = 0; v < counts.length; v++) {
    const i = v * 3;
    const dx = sums[i] / counts[v] - p[i];
    const dy = sums[i + 1] / counts[v] - p[i + 1];
    const dz = sums[i + 2] / counts[v] - p[i + 2];
    const lift = dx * normals[i] + dy * normals[i + 1] + dz * normals[i + 2];
    p[i] += SLIDE * (dx - lift * normals[i]);
    p[i + 1] += SLIDE * (dy - lift * normals[i + 1]);
    p[i + 2] += SLIDE * (dz - lift * normals[i + 2]);
  }
}

function projectAlongGradient(p: Float64Array, distance: Distance, longest: number): void {
  for (let i = 0; i < p.length; i += 3) {
    const [x, y, z] = [p[i], p[i + 1], p[i + 2]];
    const d = distance(x, y, z);
    const gx = (distance(x + GRADIENT_STEP, y, z) - d) / GRADIENT_STEP;
    const gy = (distance(x, y + GRADIENT_STEP, z) - d) / GRADIENT_STEP;
    const gz = (distance(x, y, z + GRADIENT_STEP) - d) / GRADIENT_STEP;
    const steep = Math.max(0.25, gx * gx + gy * gy + gz * gz);
    const step = Math.max(-longest, Math.min(longest, d)) / steep;
    p[i] = x - step * gx;
    p[i + 1] = y - step * gy;
    p[i + 2] = z - step * gz;
  }
}

/**
 * Moves every vertex from `first` on along its normal until the distance is zero, by up to `rounds`
 * secant steps and never farther than `longest` mm: displacement for a mesh already near the surface.
 */
export function projectAlongNormals(
  mesh: RawMesh,
  distance: Distance,
  options: { normals: Float32Array; rounds: number; longest: number; first?: number },
): void {
  const { positions: p } = mesh;
  const { normals: n, rounds, longest } = options;
  for (let i = (options.first ?? 0) * 3; i < p.length; i += 3) {
    const [x, y, z] = [p[i], p[i + 1], p[i + 2]];
    let moved = 0;
    let d = distance(x, y, z);
    let slope = 1;
    for (let round = 0; round < rounds && Math.abs(d) > 1e-4; round++) {
      const target = Math.max(-longest, Math.min(longest, moved - d / slope));
      if (target === moved) break;
      if (round === rounds - 1) {
        moved = target;
        break;
      }
      const after = distance(x + target * n[i], y + target * n[i + 1], z + target * n[i + 2]);
      slope = Math.min(3, Math.max(0.5, (after - d) / (target - moved)));
      moved = target;
      d = after;
    }
    p[i] = x + moved * n[i];
    p[i + 1] = y + moved * n[i + 1];
    p[i + 2] = z + moved * n[i + 2];
  }
}
