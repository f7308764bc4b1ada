import type { Mesh } from '../../mesh/mesh.ts';
import { joinShells, newShells, rootOf } from '../../mesh/topology/shells.ts';
import { nextHalf } from './edge-groups.ts';
import { NO_MATE, type Pairing } from './pair-edges.ts';

export interface Split {
  mesh: Mesh;
  /** Vertices that were made several, each for a surface of its own. */
  split: number[];
}

/**
 * Gives every fan of triangles that are sewn together round a vertex a vertex of its own, at the same place.
 * Fans that end at a rim stay on one vertex: which of them a hole's outline goes on to is the filler's to tell.
 * Only at the end of an edge of more than two triangles do they part too, or it would stay one edge.
 */
export function splitVertices(mesh: Mesh, { mates, crowdedVertices }: Pairing): Split {
  const { positions, triangles: t } = mesh;
  const fans = sewnCorners(t, mates, crowdedVertices);
  const vertices = positions.length / 3;
  /** One more than the fan that keeps the vertex. */
  const keeper = new Uint32Array(vertices);
  const newId = new Map<number, number>();
  const origins: number[] = [];
  const split = new Set<number>();
  const ids = new Uint32Array(t.length);
  for (let h = 0; h < t.length; h++) {
    const v = t[h];
    const fan = rootOf(fans, h);
    if (keeper[v] === 0) keeper[v] = fan + 1;
    if (keeper[v] === fan + 1) {
      ids[h] = v;
      continue;
    }
    let id = newId.get(fan);
    if (id === undefined) {
      id = vertices + origins.length;
      newId.set(fan, id);
      origins.push(v);
      split.add(v);
    }
    ids[h] = id;
  }
  if (origins.length === 0) return { mesh, split: [] };
  const wider = new Float32Array(positions.length + origins.length * 3);
  wider.set(positions);
  origins.forEach((v, i) => {
    wider.set(positions.subarray(v * 3, v * 3 + 3), positions.length + i * 3);
  });
  return { mesh: { positions: wider, triangles: ids }, split: [...split] };
}

/** Corners joined where triangles are sewn together, and at each vertex that is not crowded all corners of fans with a rim. */
function sewnCorners(t: Uint32Array, mates: Int32Array, crowded: ReadonlySet<number>): Uint32Array {
  const fans = newShells(t.length);
  for (let h = 0; h < t.length; h++) {
    const mate = mates[h];
    if (mate <= h) continue;
    const sameWay = t[h] === t[mate];
    joinShells(fans, h, sameWay ? mate : nextHalf(mate));
    joinShells(fans, nextHalf(h), sameWay ? nextHalf(mate) : mate);
  }
  const rimAt = new Map<number, number>();
  for (let h = 0; h < t.length; h++) {
    if (mates[h] !== NO_MATE) continue;
    for (const corner of [h, nextHalf(h)]) {
      if (crowded.has(t[corner])) continue;
      const first = rimAt.get(t[corner]);
      if (first === undefined) rimAt.set(t[corner], corner);
      else joinShells(fans, first, corner);
    }
  }
  return fans;
}
