import bunny from 'bunny';
import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import { scoped } from '../../../src/kernel/scope.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { apart, lumpySphere, nestedBalls, overlapping } from '../../support/figures.ts';
import { prism } from '../../support/meshes.ts';
import { box, fanned, legged, torus } from '../../support/simple-solids.ts';
import type { Throws } from './throws.ts';

/** Figures for jobs, about zero, some 10 to 80 mm large, of few triangles. */

type Point = readonly [number, number, number];

/** Each triangle cut in four at the middles of its edges, `levels` times; the shape stays. */
export function refined(mesh: Mesh, levels: number): Mesh {
  if (levels === 0) return mesh;
  const positions = Array.from(mesh.positions);
  const triangles: number[] = [];
  const middles = new Map<string, number>();
  const middle = (a: number, b: number): number => {
    const key = a < b ? `${a} ${b}` : `${b} ${a}`;
    const known = middles.get(key);
    if (known !== undefined) return known;
    const id = positions.length / 3;
    for (let k = 0; k < 3; k++) positions.push((positions[a * 3 + k] + positions[b * 3 + k]) / 2);
    middles.set(key, id);
    return id;
  };
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = mesh.triangles.subarray(t, t + 3);
    const [ab, bc, ca] = [middle(a, b), middle(b, c), middle(c, a)];
    triangles.push(a, ab, ca, b, bc, ab, c, ca, bc, ab, bc, ca);
  }
  return refined(
    { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) },
    levels - 1,
  );
}

/** A box about zero with these half sides. */
export const block = ([x, y, z]: Point, levels: number): Mesh =>
  refined(fanned(box([-x, -y, -z], [x, y, z])), levels);

/** A limb: capsules along a chain of joints, with a branch now and then, united. */
export const limb = (kernel: ManifoldToplevel, throws: Throws): Mesh =>
  scoped((own) => {
    const { Manifold } = kernel;
    const ball = (at: Point, r: number) => own(own(Manifold.sphere(r, 16)).translate([...at]));
    const capsules: Manifold[] = [];
    let from: Point = [0, 0, -20];
    let radius = throws.between(5, 9);
    for (let i = 0; i < 3 + throws.below(3); i++) {
      const to: Point = [
        from[0] + throws.between(-8, 8),
        from[1] + throws.between(-8, 8),
        from[2] + throws.between(9, 16),
      ];
      const next = radius * throws.between(0.75, 1.1);
      capsules.push(own(Manifold.hull([ball(from, radius), ball(to, next)])));
      if (throws.chance(0.4)) {
        const tip: Point = [to[0] + throws.between(-18, 18), to[1] + throws.between(-18, 18), to[2] + 4];
        capsules.push(own(Manifold.hull([ball(to, next * 0.8), ball(tip, next * 0.6)])));
      }
      [from, radius] = [to, next];
    }
    const mesh = own(Manifold.union(capsules)).getMesh();
    return {
      positions: Float32Array.from(mesh.vertProperties),
      triangles: Uint32Array.from(mesh.triVerts),
    };
  });

/** The scan, 60 mm high. */
function rabbit(): Mesh {
  const positions = Float32Array.from(bunny.positions.flatMap(([x, y, z]) => [x * 6, -z * 6, y * 6 - 30]));
  return { positions, triangles: Uint32Array.from(bunny.cells.flat()) };
}

/** A ring of bars whose middle runs through itself: its outlines cross. */
function knotted(throws: Throws): Mesh {
  const mesh = torus(12, 5, 24, 12);
  const pinch = throws.between(4, 9);
  return {
    positions: mesh.positions.map((v, i) =>
      i % 3 === 0 ? v - Math.sign(v) * pinch * Math.exp(-(mesh.positions[i + 1] ** 2) / 60) : v,
    ),
    triangles: mesh.triangles,
  };
}

/** Any figure at random. */
export function anyFigure(kernel: ManifoldToplevel, throws: Throws): Mesh {
  const seed = throws.below(1e6);
  const makers: (() => Mesh)[] = [
    () => block([throws.round(6, 30), throws.round(6, 30), throws.round(10, 30)], throws.below(4)),
    () => prism(6 + throws.below(30), throws.round(6, 20), throws.round(20, 60), 2, throws.between(0, 1)),
    () => lumpySphere(seed, throws.between(10, 25), 3, 0.3),
    () => torus(throws.between(14, 24), throws.between(4, 9), 32, 16),
    () => limb(kernel, throws),
    () => limb(kernel, throws),
    () => nestedBalls(seed),
    () => apart(seed),
    () => legged(),
    () => rabbit(),
  ];
  return throws.one(makers)();
}

/** A figure with something amiss: shells that overlap, or a surface that runs through itself. */
export const oddFigure = (throws: Throws): Mesh =>
  throws.chance(0.5) ? overlapping(throws.below(1e6)) : knotted(throws);
