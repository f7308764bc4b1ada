import { type Loop, polygonMoments } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';

/**
 * Turns (degrees) by which an outline may come to lie on another, both about the middles of their areas: those that bring
 * its longest side onto a side as long, or the corner that is farthest out onto one as far, to within `slack` mm.
 */
export function turnsOnto(outline: Loop, other: Loop, slack: number): number[] {
  const [sides, ontoSides] = [outline, other].map(sidesOf);
  const [corners, ontoCorners] = [outline, other].map(cornersAbout);
  return [...turnsBetween(sides, ontoSides, slack), ...turnsBetween(corners, ontoCorners, slack)];
}

/** Turns from the longest of some ways onto each other that is as long. */
function turnsBetween(ways: readonly Vec2[], onto: readonly Vec2[], slack: number): number[] {
  const longest = ways.reduce((best, way) => (lengthOf(way) > lengthOf(best) ? way : best));
  const isAsLong = (way: Vec2) => Math.abs(lengthOf(way) - lengthOf(longest)) <= slack;
  return onto.filter(isAsLong).map((way) => ((angleOf(way) - angleOf(longest)) * 180) / Math.PI);
}

const lengthOf = ([x, y]: Vec2): number => Math.hypot(x, y);
const angleOf = ([x, y]: Vec2): number => Math.atan2(y, x);

const cornersOf = (loop: Loop): Vec2[] =>
  Array.from({ length: loop.length / 2 }, (_, i): Vec2 => [loop[i * 2], loop[i * 2 + 1]]);

const sidesOf = (loop: Loop): Vec2[] => {
  const corners = cornersOf(loop);
  return corners.map(([x, y], i): Vec2 => {
    const [nx, ny] = corners[(i + 1) % corners.length];
    return [nx - x, ny - y];
  });
};

function cornersAbout(loop: Loop): Vec2[] {
  const { centroid } = polygonMoments([loop]);
  return cornersOf(loop).map(([x, y]): Vec2 => [x - centroid[0], y - centroid[1]]);
}
