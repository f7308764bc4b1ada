import type { Manifold, ManifoldToplevel } from 'manifold-3d';
import type { Own } from '../../../../src/kernel/scope.ts';
import type { JobDocument, SeamBy } from '../generate.ts';
import type { NestPlan, SweepPlan } from '../scenarios.ts';
import type { PartFile } from './part.ts';
import { solidOf } from './solids.ts';
import { boxOf } from './triangle.ts';
import { cross, dot, minus, type Point, plus, times, unit } from './vectors.ts';

/** What a part is without its joints. */
export interface PlainPart {
  solid: Manifold;
  /** So much a gap between nested bodies may have taken off it besides, mm³. */
  gapMm3: number;
}

/** A gap follows its surface round edges and takes more there than its width times the area. */
const ROUND_EDGES = 1.3;

/**
 * The figure divided by the seams alone, by the names of the parts; null where the kernel takes it for no solid, or a seam
 * is swept along a curve, which no plane bounds.
 */
export function plainParts(
  kernel: ManifoldToplevel,
  own: Own,
  job: JobDocument,
  figure: PartFile,
  centre: Point,
): Map<string, PlainPart> | null {
  const whole = solidOf(kernel, own, figure);
  if (!whole) return null;
  const parts = new Map<string, PlainPart>([['sculpt', { solid: whole, gapMm3: 0 }]]);
  for (const { id, of, by } of job.seams) {
    if (by.kind === 'sheet' && by.runs === 'smooth') return null;
    const part = parts.get(of);
    if (!part) continue;
    const sides =
      by.kind === 'contact'
        ? nestedBodies(kernel, own, by, figure, centre)
        : divided(kernel, own, by, part.solid, centre);
    if (!sides) return null;
    parts.delete(of);
    parts.set(`${id}.front`, sides[0]).set(`${id}.back`, sides[1]);
  }
  const names = new Map<string, string>(
    job.seams.flatMap(({ id, names }) =>
      (['front', 'back'] as const).map((side) => [`${id}.${side}`, names[side]] as const),
    ),
  );
  return new Map([...parts].map(([id, part]) => [names.get(id) ?? 'sculpt', part]));
}

function divided(
  kernel: ManifoldToplevel,
  own: Own,
  by: Exclude<SeamBy, NestPlan>,
  whole: Manifold,
  centre: Point,
): PlainPart[] {
  const plain = (solid: Manifold): PlainPart => ({ solid: own(solid), gapMm3: 0 });
  if (by.kind === 'sheet') {
    const front = frontOf(kernel, own, by, whole, centre);
    return [whole.intersect(front), whole.subtract(front)].map(plain);
  }
  const normal = unit(by.normal);
  return whole.splitByPlane([...normal], by.offsetMm - dot(normal, centre)).map(plain);
}

/** All that lies left of a swept line, seen against the sweep, as far as a figure reaches: the line goes on from its ends. */
function frontOf(
  { Manifold }: ManifoldToplevel,
  own: Own,
  { line, along }: SweepPlan,
  whole: Manifold,
  centre: Point,
): Manifold {
  const z = unit(along);
  const chord = minus(line[line.length - 1], line[0]);
  const x = unit(minus(chord, times(z, dot(chord, z))));
  const y = cross(z, x);
  const flat = line.map((p): [number, number] => {
    const q = minus(p, centre);
    return [dot(q, x), dot(q, y)];
  });
  const box = whole.boundingBox();
  const far = 4 * Math.hypot(...minus(box.max, box.min)) + Math.hypot(...flat.flat());
  const beyond = ([ax, ay]: number[], [bx, by]: number[]): [number, number] => {
    const long = Math.hypot(bx - ax, by - ay);
    return [bx + ((bx - ax) * far) / long, by + ((by - ay) * far) / long];
  };
  const first = beyond(flat[1], flat[0]);
  const last = beyond(flat[flat.length - 2], flat[flat.length - 1]);
  const outline = [first, ...flat, last, [last[0], 3 * far], [first[0], 3 * far]] as [number, number][];
  const upright = own(Manifold.extrude([outline], 4 * far, 0, 0, [1, 1], true));
  return own(upright.transform([...x, 0, ...y, 0, ...z, 0, 0, 0, 0, 1]));
}

/** A figure's pieces as solids of their own. */
export const bodyFile = (figure: PartFile, number: string): PartFile => {
  const own = figure.pieces[Number(number) - 1]?.triangles ?? [];
  return {
    ...figure,
    triangles: own.map((t) => figure.triangles[t]),
    corners: Uint32Array.from(own.flatMap((t) => [...figure.corners.subarray(t * 3, t * 3 + 3)])),
  };
};

/** Which of two nested bodies gives way: the one that is named, else the larger. */
export function givesWay({ bodies: [front, back], gives }: NestPlan, figure: PartFile): 'front' | 'back' {
  if (gives !== undefined) return gives === front ? 'front' : 'back';
  const volumeOf = (number: string) => figure.pieces[Number(number) - 1].volume;
  return volumeOf(front) > volumeOf(back) ? 'front' : 'back';
}

function nestedBodies(
  kernel: ManifoldToplevel,
  own: Own,
  by: NestPlan,
  figure: PartFile,
  centre: Point,
): PlainPart[] | null {
  const [front, back] = by.bodies.map((number) => solidOf(kernel, own, bodyFile(figure, number)));
  if (!front || !back) return null;
  const gapMm3 = own(front.intersect(back)).surfaceArea() * by.nestGapMm * ROUND_EDGES;
  const less = (one: Manifold, other: Manifold): PlainPart => ({ solid: own(one.subtract(other)), gapMm3 });
  const whole = (solid: Manifold): PlainPart => ({ solid, gapMm3: 0 });
  if (!by.flat)
    return givesWay(by, figure) === 'front'
      ? [less(front, back), whole(back)]
      : [whole(front), less(back, front)];
  const { normal, offsetMm } = flatOf(by, figure, centre);
  // Each keeps its own side of the flat.
  return [
    less(front, own(back.trimByPlane([...times(normal, -1)], -offsetMm))),
    less(back, own(front.trimByPlane([...normal], offsetMm))),
  ];
}

/** The plane of a flat, its normal towards the front body's middle, about the figure's. */
export function flatOf({ bodies, flat }: NestPlan, figure: PartFile, centre: Point) {
  const [to, from] = bodies.map((number) => {
    const { min, max } = boxOf(bodyFile(figure, number).triangles.flat());
    return times(plus(min, max), 0.5);
  });
  const { at, normal } = flat as NonNullable<NestPlan['flat']>;
  const n = dot(unit(normal), minus(to, from)) < 0 ? times(unit(normal), -1) : unit(normal);
  return { normal: n, offsetMm: dot(n, minus(at, centre)) };
}
