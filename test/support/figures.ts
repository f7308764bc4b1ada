import { makeRandom } from '../../src/demo/prng.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { box, fanned, moved, together, torus } from './simple-solids.ts';

/** Closed figures to cut, each a value of its seed. Counter-clockwise from outside, mm. */

type Point = [number, number, number];

/** A sphere of radius 1 from an icosahedron, each triangle cut in four `levels` times. */
export function icosphere(levels: number): Mesh {
  const g = (1 + Math.sqrt(5)) / 2;
  const corners: Point[] = [];
  for (const s of [-1, 1]) for (const t of [-g, g]) corners.push([0, s, t], [s, t, 0], [t, 0, s]);
  // Corners at distance 2 are neighbours; three that are mutual neighbours are a face.
  const near = (a: Point, b: Point) => Math.abs(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) - 2) < 1e-9;
  let faces: [number, number, number][] = [];
  for (let a = 0; a < 12; a++)
    for (let b = a + 1; b < 12; b++)
      for (let c = b + 1; c < 12; c++) {
        const [p, q, r] = [corners[a], corners[b], corners[c]];
        if (near(p, q) && near(q, r) && near(r, p)) faces.push(outwards(p, q, r) ? [a, b, c] : [a, c, b]);
      }
  const points = corners.map(unit);
  for (let level = 0; level < levels; level++) faces = quartered(points, faces);
  return { positions: Float32Array.from(points.flat()), triangles: Uint32Array.from(faces.flat()) };
}

const unit = ([x, y, z]: Point): Point => {
  const l = Math.hypot(x, y, z);
  return [x / l, y / l, z / l];
};

function outwards(p: Point, q: Point, r: Point): boolean {
  const [ux, uy, uz] = [q[0] - p[0], q[1] - p[1], q[2] - p[2]];
  const [vx, vy, vz] = [r[0] - p[0], r[1] - p[1], r[2] - p[2]];
  return p[0] * (uy * vz - uz * vy) + p[1] * (uz * vx - ux * vz) + p[2] * (ux * vy - uy * vx) > 0;
}

function quartered(points: Point[], faces: [number, number, number][]): [number, number, number][] {
  const middles = new Map<string, number>();
  const middle = (a: number, b: number) => {
    const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
    let id = middles.get(key);
    if (id === undefined) {
      const [p, q] = [points[a], points[b]];
      id = points.push(unit([p[0] + q[0], p[1] + q[1], p[2] + q[2]])) - 1;
      middles.set(key, id);
    }
    return id;
  };
  return faces.flatMap(([a, b, c]) => {
    const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
    return [
      [a, ab, ca],
      [b, bc, ab],
      [c, ca, bc],
      [ab, bc, ca],
    ] as [number, number, number][];
  });
}

/** A sphere of about `radius` mm with soft lumps up to `lumps` of its radius, star-shaped about zero. */
export function lumpySphere(seed: number, radius: number, levels = 3, lumps = 0.25): Mesh {
  const random = makeRandom(seed);
  const waves = Array.from({ length: 6 }, () => ({
    along: [random() - 0.5, random() - 0.5, random() - 0.5].map((v) => v * 9),
    phase: random() * 2 * Math.PI,
  }));
  const sphere = icosphere(levels);
  const positions = new Float32Array(sphere.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = sphere.positions.subarray(i, i + 3);
    const wave = waves.reduce(
      (s, { along, phase }) => s + Math.sin(along[0] * x + along[1] * y + along[2] * z + phase),
      0,
    );
    const r = radius * (1 + (lumps * wave) / waves.length);
    positions.set([x * r, y * r, z * r], i);
  }
  return { positions, triangles: sphere.triangles };
}

/** A square box frame, `size` wide, with a square hole of width `hole` along z through its middle. */
export function boxFrame(size: number, hole: number, height: number): Mesh {
  const ring = (half: number, z: number): Point[] => [
    [-half, -half, z],
    [half, -half, z],
    [half, half, z],
    [-half, half, z],
  ];
  const [s, h] = [size / 2, hole / 2];
  const vertices = [...ring(s, 0), ...ring(h, 0), ...ring(s, height), ...ring(h, height)];
  const faces = [0, 1, 2, 3].flatMap((k) => {
    const j = (k + 1) % 4;
    return [
      [k, 4 + k, 4 + j, j], // bed
      [8 + k, 8 + j, 12 + j, 12 + k], // top
      [k, j, 8 + j, 8 + k], // outside
      [4 + k, 12 + k, 12 + j, 4 + j], // inside the hole
    ];
  });
  return fanned({ vertices, faces });
}

/** The mesh inside out: a hollow, where it lies within another. */
export const insideOut = ({ positions, triangles }: Mesh): Mesh => ({
  positions,
  triangles: triangles.slice().reverse(),
});

/** A ball with a hollow that does not reach its skin, and a small ball inside the hollow. */
export const nestedBalls = (seed: number): Mesh =>
  together(
    lumpySphere(seed, 20, 3, 0.15),
    insideOut(lumpySphere(seed + 1, 12, 2, 0.1)),
    lumpySphere(seed + 2, 5, 2, 0.1),
  );

/** Three figures side by side that do not touch. */
export const apart = (seed: number): Mesh =>
  together(
    moved(lumpySphere(seed, 8, 2), [-20, 0, 1]),
    moved(lumpySphere(seed + 1, 7, 2), [0, 2, -1]),
    moved(fanned(box([0, 0, 0], [9, 8, 7])), [14, -3, -4]),
  );

/** Two closed shells that run through each other. */
export const overlapping = (seed: number): Mesh =>
  together(lumpySphere(seed, 10, 2), moved(lumpySphere(seed + 1, 9, 2), [8, 1, 0.5]));

/** A coarse ring. */
export const ring = (): Mesh => torus(14, 6, 40, 20);

/** Turned by Euler angles (radians) about z, then x, then z, rounded to single precision. */
export function turned(mesh: Mesh, a: number, b: number, c: number): Mesh {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = mesh.positions.subarray(i, i + 3);
    const [x1, y1] = [x * Math.cos(a) - y * Math.sin(a), x * Math.sin(a) + y * Math.cos(a)];
    const [y2, z2] = [y1 * Math.cos(b) - z * Math.sin(b), y1 * Math.sin(b) + z * Math.cos(b)];
    positions.set([x1 * Math.cos(c) - y2 * Math.sin(c), x1 * Math.sin(c) + y2 * Math.cos(c), z2], i);
  }
  return { positions, triangles: mesh.triangles };
}

/**
 * A square block `size` wide up to z = `step`, a narrower one `top` wide from there to `height`: lower than
 * `step`, it is a pocket instead. All walls lie along the axes.
 */
export function steppedBlock(size: number, step: number, top: number, height: number): Mesh {
  const square = (half: number, z: number): Point[] => [
    [-half, -half, z],
    [half, -half, z],
    [half, half, z],
    [-half, half, z],
  ];
  const vertices = [
    ...square(size / 2, 0),
    ...square(size / 2, step),
    ...square(top / 2, step),
    ...square(top / 2, height),
  ];
  const bands = [0, 4, 8].flatMap((low) =>
    [0, 1, 2, 3].map((k) => {
      const j = (k + 1) % 4;
      return [low + k, low + j, low + 4 + j, low + 4 + k];
    }),
  );
  return fanned({ vertices, faces: [[3, 2, 1, 0], ...bands, [12, 13, 14, 15]] });
}
