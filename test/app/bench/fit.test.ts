import { PerspectiveCamera, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { fittedDistance } from '../../../app/bench/fit.ts';
import {
  ballAround,
  pulled,
  pulledBounds,
  type Stage,
  standingWay,
  toScene,
} from '../../../app/bench/scene-space.ts';
import type { Vec3 } from '../../../src/index.ts';

/** A tower of five blocks far from the origin, each cut off the next by a level seam. */
const stage: Stage = {
  originMm: [5000, 0, 0],
  boundsMm: { min: [4980, -10, 0], max: [5020, 10, 100] },
};
const parts = [0, 1, 2, 3, 4].map((storey) => ({
  away: [0, 0, storey - 2] as Vec3,
  boundsMm: { min: [4980, -10, storey * 20] as Vec3, max: [5020, 10, storey * 20 + 20] as Vec3 },
}));
const figure = ballAround(stage);

/** How far the corners of the parts stand from the middle of a fitted picture: 1 is its edge. */
function farthestSeen(boundsMm: Stage['boundsMm'], explode: number, aspect: number): number {
  const lens = new PerspectiveCamera(26, aspect, figure.radius / 100, figure.radius * 600);
  lens.up.set(0, 0, 1);
  const facing = new Vector3(0.45, -1.6, 0.72).normalize();
  const target = new Vector3(...ballAround({ ...stage, boundsMm }).centre);
  lens.position.copy(target).addScaledVector(facing, fittedDistance(lens, aspect, facing, boundsMm));
  lens.lookAt(target);
  lens.updateMatrixWorld();
  const standing = standingWay(parts);
  return Math.max(
    ...parts.flatMap((part) => {
      const by = pulled(part.away, standing, explode, figure);
      return Array.from({ length: 8 }, (_, corner) => {
        const at = [0, 1, 2].map((axis) => {
          const { min, max } = part.boundsMm;
          return ((corner >> axis) & 1 ? max[axis]! : min[axis]!) + by[axis]!;
        });
        const seen = new Vector3(...toScene(stage, at as unknown as Vec3)).project(lens);
        return Math.max(Math.abs(seen.x), Math.abs(seen.y));
      });
    }),
  );
}

describe('fitting parts that are pulled apart', () => {
  for (const aspect of [0.6, 1, 2.4]) {
    for (const explode of [0, 0.3, 1]) {
      it(`shows all of every part, pulled by ${explode}, in a picture ${aspect} as wide as high`, () => {
        const box = pulledBounds(stage.boundsMm, parts, explode, figure);
        const farthest = farthestSeen(box, explode, aspect);
        expect(farthest).toBeLessThan(1);
        expect(farthest).toBeGreaterThan(0.6);
      });
    }
  }

  it('does not by the box of the seated figure', () => {
    expect(farthestSeen(stage.boundsMm, 1, 1)).toBeGreaterThan(1);
  });

  it('keeps the box of the figure where nothing is pulled or there are no parts', () => {
    expect(pulledBounds(stage.boundsMm, parts, 0, figure)).toEqual(stage.boundsMm);
    expect(pulledBounds(stage.boundsMm, [], 1, figure)).toEqual(stage.boundsMm);
  });
});
