import { makeRandom } from '../../src/demo/prng.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import { suggestPlaces } from '../../src/joint/suggest-places.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { apart, boxFrame, lumpySphere, nestedBalls, ring, turned } from './figures.ts';
import { cutFigure, type Fixture, jointsAt, pegOf } from './seam-fixture.ts';

/** Figures cut and pegged at random, the same for the same seed: what the fast ways are held against the kernel on. */

const FIGURES: ((seed: number) => Mesh)[] = [
  (seed) => lumpySphere(seed, 15, 3, 0.3),
  (seed) => lumpySphere(seed, 12, 1, 0.3),
  () => boxFrame(40, 12, 14),
  nestedBalls,
  apart,
  ring,
];

export type Side = 'front' | 'back';
export const other = (side: Side): Side => (side === 'front' ? 'back' : 'front');

/** A figure cut at random, or null where the plane misses it. */
export function randomFixture(kernel: Kernel, seed: number, random: () => number): Fixture | null {
  const figure = FIGURES[Math.floor(random() * FIGURES.length)](seed);
  const mesh = turned(figure, random() * 7, random() * 3, random() * 7);
  const normal: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
  return cutFigure(kernel, mesh, normal, (random() - 0.5) * 12);
}

/** Sizes at random for a peg about `width` wide; some without rounded edges. */
export const randomPeg = (random: () => number, width: number) =>
  pegOf({
    widthMm: width,
    heightMm: width * (0.6 + 0.8 * random()),
    lengthMm: width * (0.3 + 1.2 * random()),
    draftDeg: random() * 15,
    edgeRadiusMm: random() < 0.2 ? 0 : width * 0.15 * random(),
    spinDeg: random() * 360,
    sideGapMm: 0.05 + 0.3 * random(),
    endGapMm: 0.1 + 0.6 * random(),
  });

/** One peg at random near the roomiest place of a random face; null where the throw makes no peg. */
export function randomJoint(kernel: Kernel, seed: number) {
  const random = makeRandom(seed);
  const fixture = randomFixture(kernel, seed, random);
  if (!fixture) return null;
  const pegOn: Side = random() < 0.5 ? 'front' : 'back';
  const [place] = suggestPlaces(fixture[other(pegOn)].face.loops, [], 1);
  const drift = place.radius * 1.2 * random();
  const towards = random() * 7;
  const at: Vec2 = [place.at[0] + drift * Math.cos(towards), place.at[1] + drift * Math.sin(towards)];
  const peg = randomPeg(random, place.radius * (0.2 + 1.2 * random()));
  return jointKind(peg.kind).fault(peg)
    ? null
    : { fixture, pegOn, joints: jointsAt(fixture.cut, at, peg, pegOn) };
}
