import { type RawMesh, vertexNormals } from './raw-mesh.ts';
import { projectAlongNormals } from './settle.ts';

/** A triangle that turns farther than this from where it lay has been folded by the relief (cosine). */
const FOLDED_COSINE = 0.15;
/** Rounds in which the corners of folded triangles are brought back. */
const UNFOLD_ROUNDS = 8;
/** What is left of a corner's displacement after each of those rounds. */
const UNFOLD_SHARE = 0.55;

/**
 * Moves the vertices of a smooth mesh along its normals to where `distance` is zero, at most `longest`
 * mm; where that folds the surface over, in tight creases, the relief is taken back until it lies flat.
 */
export function displace(
  mesh: RawMesh,
  distance: (x: number, y: number, z: number) => number,
  longest: number,
): void {
  const smooth = mesh.positions.slice();
  projectAlongNormals(mesh, distance, { normals: vertexNormals(mesh), rounds: 4, longest });
  const folded = new Uint8Array(smooth.length / 3);
  for (let round = 0; round < UNFOLD_ROUNDS; round++) {
    if (!markFolded(mesh, smooth, folded)) return;
    for (let v = 0; v < folded.length; v++) {
      if (!folded[v]) continue;
      folded[v] = 0;
      for (let i = v * 3; i < v * 3 + 3; i++) {
        mesh.positions[i] = smooth[i] + UNFOLD_SHARE * (mesh.positions[i] - smooth[i]);
      }
    }
  }
}

/** Marks the corners of every triangle whose normal has turned too far; answers whether there was one. */
function markFolded({ positions, triangles }: RawMesh, smooth: Float64Array, folded: Uint8Array): boolean {
  let any = false;
  const was = new Float64Array(3);
  const is = new Float64Array(3);
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i], triangles[i + 1], triangles[i + 2]];
    crossInto(was, smooth, a * 3, b * 3, c * 3);
    crossInto(is, positions, a * 3, b * 3, c * 3);
    const dot = was[0] * is[0] + was[1] * is[1] + was[2] * is[2];
    if (dot >= FOLDED_COSINE * length(was) * length(is)) continue;
    folded[a] = folded[b] = folded[c] = 1;
    any = true;
  }
  return any;
}

const length = (v: Float64Array): number => Math.sqrt(v[0] * v[0] + v[1] * v[1] + v[2] * v[2]);

/** The cross product of two sides of a triangle. */
function crossInto(out: Float64Array, p: Float64Array, a: number, b: number, c: number): void {
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  out[0] = uy * vz - uz * vy;
  out[1] = uz * vx - ux * vz;
  out[2] = ux * vy - uy * vx;
}
