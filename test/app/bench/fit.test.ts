import { PerspectiveCamera, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { fittedDistance } from '../../../app/bench/fit.ts';
import {
  ballAround,
  movedBy,
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
  id: `${storey}`,
  away: [0, 0, storey - 2] as Vec3,
  boundsMm: { min: [4980, -10, storey * 20] as Vec3, max: [5020, 10, storey * 20 + 20] as Vec3 },
}));
const figure = ballAround(stage);
const SEATED = { explode: 0, apart: [] };

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
        const box = pulledBounds(stage.boundsMm, parts, { explode, apart: [] }, figure);
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
    expect(pulledBounds(stage.boundsMm, parts, SEATED, figure)).toEqual(stage.boundsMm);
    expect(pulledBounds(stage.boundsMm, [], { explode: 1, apart: ['0'] }, figure)).toEqual(stage.boundsMm);
  });
});

describe('pulling one part away', () => {
  const standing = standingWay(parts);
  const moves = (id: string, explode = 0) =>
    parts.map((part) => movedBy(part, standing, { explode, apart: [id] }, figure, stage.boundsMm));

  it('moves that one alone, off the seams that made it', () => {
    const far = moves('4')[4]![2];
    expect(far).toBeGreaterThan(20);
    expect(moves('4')).toEqual([0, 1, 2, 3, 4].map((storey) => [0, 0, storey === 4 ? far : 0]));
  });

  it('draws out sideways what is between others, and what would go down through the bed, clear of the figure', () => {
    for (const id of ['0', '1', '2']) {
      const [x, y, z] = moves(id)[Number(id)]!;
      expect([x, z]).toEqual([0, 0]);
      expect(Math.abs(y)).toBeGreaterThan(20);
    }
  });

  it('adds to what all are pulled apart by, and all of it is fitted', () => {
    const [seated, pull] = [moves('none', 0.5), moves('4', 0.5)];
    expect(pull[4]![2]).toBeGreaterThan(seated[4]![2]);
    expect(pull.slice(0, 4)).toEqual(seated.slice(0, 4));
    const { min, max } = pulledBounds(stage.boundsMm, parts, { explode: 0, apart: ['2', '4'] }, figure);
    expect(min[1]).toBeLessThan(-30);
    expect(max[2]).toBeGreaterThan(120);
  });
});
