import type { Mesh } from '../../src/mesh/mesh.ts';

/** Solids whose numbers are known, as polygons and as triangles. Counter-clockwise from outside. */

export interface Polyhedron {
  vertices: [number, number, number][];
  faces: number[][];
}

/** A box from one corner to the other, six quads. */
export function box(min: [number, number, number], max: [number, number, number]): Polyhedron {
  const vertices: Polyhedron['vertices'] = [];
  for (const z of [min[2], max[2]])
    for (const y of [min[1], max[1]]) for (const x of [min[0], max[0]]) vertices.push([x, y, z]);
  const faces = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [1, 3, 7, 5],
    [3, 2, 6, 7],
    [2, 0, 4, 6],
  ];
  return { vertices, faces };
}

/** A bar of 60 × 12 × 10 mm along x over z = 0, on two legs down to z = −20: 10 mm wide at its low end, 14 mm at its high. */
export const legged = (): Mesh =>
  celled([-30, -20, 16, 30], [-20, 0, 10], (i, k) => k === 1 || i === 0 || i === 2);

/**
 * A bar on two legs like it. The left one, −30 to −20, goes on in a foot and an arm that rises again, −10 to 0, and
 * ends in an overhang over a ledge of the right leg.
 */
export const hooked = (): Mesh =>
  celled([-30, -20, -10, 0, 4, 7, 10, 20], [-40, -30, -20, -10, -4, 0, 10], (i, k) => {
    const isFoot = k === 0 && i <= 2;
    const isArm = i === 2 && k <= 3;
    const isOverhang = k === 3 && (i === 3 || i === 4);
    const isLedge = k === 1 && (i === 4 || i === 5);
    return k === 5 || i === 0 || (i === 6 && k > 0) || isFoot || isArm || isOverhang || isLedge;
  });

/** A trunk 20 mm wide up to z = 20 with an arm to each side, out to x = ±30 between z = 0 and 8, on two legs down to z = −20: the same left and right. */
export const armed = (): Mesh =>
  celled([-30, -10, -4, 4, 10, 30], [-20, 0, 8, 20], (i, k) => {
    const isTrunk = k === 2 && i >= 1 && i <= 3;
    const isLeg = k === 0 && (i === 1 || i === 3);
    return k === 1 || isTrunk || isLeg;
  });

/** A solid 12 mm deep (y), made of the cells between some x and some z that are full. */
function celled(x: readonly number[], z: readonly number[], full: (i: number, k: number) => boolean): Mesh {
  const [columns, rows] = [x.length - 1, z.length - 1];
  const isFull = (i: number, k: number) => i >= 0 && i < columns && k >= 0 && k < rows && full(i, k);
  const vertices: Polyhedron['vertices'] = [];
  for (const y of [-6, 6]) for (const up of z) for (const along of x) vertices.push([along, y, up]);
  const at = (i: number, j: number, k: number) => (j * z.length + k) * x.length + i;
  const faces: number[][] = [];
  for (let i = 0; i < columns; i++) {
    for (let k = 0; k < rows; k++) {
      if (!isFull(i, k)) continue;
      faces.push([at(i, 0, k), at(i + 1, 0, k), at(i + 1, 0, k + 1), at(i, 0, k + 1)]);
      faces.push([at(i, 1, k), at(i, 1, k + 1), at(i + 1, 1, k + 1), at(i + 1, 1, k)]);
      if (!isFull(i, k - 1)) faces.push([at(i, 0, k), at(i, 1, k), at(i + 1, 1, k), at(i + 1, 0, k)]);
      if (!isFull(i, k + 1))
        faces.push([at(i, 0, k + 1), at(i + 1, 0, k + 1), at(i + 1, 1, k + 1), at(i, 1, k + 1)]);
      if (!isFull(i - 1, k)) faces.push([at(i, 0, k), at(i, 0, k + 1), at(i, 1, k + 1), at(i, 1, k)]);
      if (!isFull(i + 1, k))
        faces.push([at(i + 1, 0, k), at(i + 1, 1, k), at(i + 1, 1, k + 1), at(i + 1, 0, k + 1)]);
    }
  }
  return fanned({ vertices, faces });
}

/** A square pyramid's frustum on the bed, four quads between two squares. */
export function frustum(bottom: number, top: number, height: number): Polyhedron {
  const [b, t] = [bottom / 2, top / 2];
  const { faces } = box([0, 0, 0], [1, 1, 1]);
  const vertices: Polyhedron['vertices'] = [];
  for (const [s, z] of [
    [b, 0],
    [t, height],
  ])
    for (const y of [-s, s]) for (const x of [-s, s]) vertices.push([x, y, z]);
  return { vertices, faces };
}

/** A torus about Z, `around` × `across` quads cut to triangles. */
export function torus(major: number, minor: number, around: number, across: number): Mesh {
  const positions = new Float32Array(around * across * 3);
  const triangles: number[] = [];
  const at = (i: number, j: number) => (i % around) * across + (j % across);
  for (let i = 0; i < around; i++) {
    for (let j = 0; j < across; j++) {
      const a = (2 * Math.PI * i) / around;
      const b = (2 * Math.PI * j) / across;
      const r = major + minor * Math.cos(b);
      positions.set([r * Math.cos(a), r * Math.sin(a), minor * Math.sin(b)], at(i, j) * 3);
      triangles.push(at(i, j), at(i + 1, j), at(i + 1, j + 1), at(i, j), at(i + 1, j + 1), at(i, j + 1));
    }
  }
  return { positions, triangles: Uint32Array.from(triangles) };
}

/** Faces fanned from their first corner: right for convex ones. */
export function fanned({ vertices, faces }: Polyhedron): Mesh {
  const triangles = faces.flatMap((face) =>
    face.slice(2).flatMap((corner, k) => [face[0], face[k + 1], corner]),
  );
  return { positions: Float32Array.from(vertices.flat()), triangles: Uint32Array.from(triangles) };
}

/** Several meshes in one, sharing nothing. */
export function together(...meshes: Mesh[]): Mesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const base = positions.length / 3;
    positions.push(...mesh.positions);
    triangles.push(...Array.from(mesh.triangles, (v) => v + base));
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

/** The mesh moved by an offset, in single precision. */
export function moved(mesh: Mesh, by: [number, number, number]): Mesh {
  return { positions: mesh.positions.map((p, i) => p + by[i % 3]), triangles: mesh.triangles };
}

/** Volume enclosed, by summing signed tetrahedra about the origin: independent of the engine. */
export function plainVolume({ positions: p, triangles: t }: Mesh): number {
  let six = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
    six +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return six / 6;
}

/** Corner coordinates of every triangle, nine numbers each. */
export const cornersOf = ({ positions, triangles }: Mesh): number[] =>
  Array.from(triangles).flatMap((v) => Array.from(positions.subarray(v * 3, v * 3 + 3)));
