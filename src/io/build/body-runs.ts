import { LIMITS } from '../../model/limits.ts';
import type { RawBody, RawMesh } from '../raw-mesh.ts';

/** Longest name kept of a body, in letters. */
const NAME_LETTERS = 120;

/** Bodies as a reader meets them: each starts where the one before it ends. */
export class BodyRuns {
  readonly #runs: { name: string; first: number }[] = [];

  get isEmpty(): boolean {
    return this.#runs.length === 0;
  }

  /** Starts a body at the triangle `first`; one that got no triangles is forgotten. */
  start(name: string, first: number): void {
    const runs = this.#runs;
    if (runs[runs.length - 1]?.first === first) runs.pop();
    runs.push({ name: name.slice(0, NAME_LETTERS), first });
  }

  /** The bodies of `triangleCount` triangles, all of them; none where not one is told apart or named. */
  bodies(triangleCount: number): RawBody[] {
    const runs = this.#runs.filter(({ first }) => first < triangleCount);
    if (runs.every(({ name }) => name === '') && runs.length < 2) return [];
    if (runs[0].first > 0) runs.unshift({ name: '', first: 0 });
    return runs.map(({ name, first }, i) => ({
      name,
      triangleCount: (runs[i + 1]?.first ?? triangleCount) - first,
    }));
  }
}

/** Bodies for spreading into a mesh. So many that nobody could want them apart are not told. */
export const told = (bodies: RawBody[]): Pick<RawMesh, 'bodies'> =>
  bodies.length === 0 || bodies.length > LIMITS.bodies ? {} : { bodies };

/** Bodies that share a vertex made one, with all that stand between them, under the first one's name. */
export function joinSharing(bodies: RawBody[], mesh: RawMesh): RawBody[] {
  const reach = reachBack(bodies, mesh);
  const joined: RawBody[] = [];
  /** Body from which on all up to the one looked at are one. */
  let from = bodies.length - 1;
  let triangleCount = 0;
  for (let body = bodies.length - 1; body >= 0; body--) {
    triangleCount += bodies[body].triangleCount;
    from = Math.min(from, reach[body]);
    if (from < body) continue;
    joined.push({ name: bodies[body].name, triangleCount });
    triangleCount = 0;
    from = body - 1;
  }
  return joined.reverse();
}

/** For each body the first one it shares a vertex with, itself where there is none before. */
function reachBack(bodies: readonly RawBody[], { positions, triangles }: RawMesh): Uint32Array {
  const reach = Uint32Array.from(bodies, (_, body) => body);
  const firstBody = new Int32Array(positions.length / 3).fill(-1);
  let corner = 0;
  for (let body = 0; body < bodies.length; body++) {
    for (const end = corner + bodies[body].triangleCount * 3; corner < end; corner++) {
      const vertex = triangles[corner];
      if (firstBody[vertex] < 0) firstBody[vertex] = body;
      else if (firstBody[vertex] < reach[body]) reach[body] = firstBody[vertex];
    }
  }
  return reach;
}
