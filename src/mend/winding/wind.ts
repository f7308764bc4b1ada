import type { Mesh } from '../../mesh/mesh.ts';
import { nextHalf } from '../touching/edge-groups.ts';
import { NO_MATE } from '../touching/pair-edges.ts';

/** Which way a triangle stands in its surface. */
const UNSEEN = 0;
const AS_IT_IS = 1;
const AGAINST = 2;

/**
 * Turns triangles so that neighbours agree, surface by surface: what more triangles of the file say holds.
 * A one-sided surface (a Möbius strip) cannot agree and keeps an edge where it does not.
 */
export function windCoherently(mesh: Mesh, mates: Int32Array): { mesh: Mesh; turnedCount: number } {
  const { triangles: t } = mesh;
  const stands = new Uint8Array(t.length / 3);
  const queue = new Uint32Array(stands.length);
  const turn: number[] = [];
  for (let seed = 0; seed < stands.length; seed++) {
    if (stands[seed] !== UNSEEN) continue;
    const size = flood(t, mates, stands, queue, seed);
    let against = 0;
    for (let i = 0; i < size; i++) if (stands[queue[i]] === AGAINST) against++;
    if (against === 0) continue;
    const wrong = against * 2 > size ? AS_IT_IS : AGAINST;
    for (let i = 0; i < size; i++) if (stands[queue[i]] === wrong) turn.push(queue[i]);
  }
  return { mesh: turn.length > 0 ? withTurned(mesh, turn) : mesh, turnedCount: turn.length };
}

/** Stands every triangle of the seed's surface with or against it; answers how many, listed in `queue`. */
function flood(
  t: Uint32Array,
  mates: Int32Array,
  stands: Uint8Array,
  queue: Uint32Array,
  seed: number,
): number {
  let size = 1;
  queue[0] = seed;
  stands[seed] = AS_IT_IS;
  for (let done = 0; done < size; done++) {
    const triangle = queue[done];
    for (let h = triangle * 3; h < triangle * 3 + 3; h++) {
      const mate = mates[h];
      if (mate === NO_MATE) continue;
      const neighbour = (mate / 3) | 0;
      if (stands[neighbour] !== UNSEEN) continue;
      const agrees = t[h] === t[nextHalf(mate)];
      stands[neighbour] = agrees ? stands[triangle] : AS_IT_IS + AGAINST - stands[triangle];
      queue[size++] = neighbour;
    }
  }
  return size;
}

/** The mesh with the triangles listed seen from their other side. */
export function withTurned({ positions, triangles: t }: Mesh, listed: ArrayLike<number>): Mesh {
  const triangles = t.slice();
  for (let i = 0; i < listed.length; i++) {
    const at = listed[i] * 3;
    triangles[at + 1] = t[at + 2];
    triangles[at + 2] = t[at + 1];
  }
  return { positions, triangles };
}
