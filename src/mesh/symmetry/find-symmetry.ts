import type { Plane } from '../../math/plane.ts';
import { principalAxes } from '../../math/symmetric3.ts';
import { dot, length, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Bounds } from '../measure.ts';
import type { Mesh } from '../mesh.ts';
import { SkinSearch } from '../near/nearest-on-skin.ts';
import { type FitOptions, fitPlane } from './fit-plane.ts';
import { measureSymmetry, mirroredShare, misfit, nearFor, type Symmetry } from './measure-symmetry.ts';
import { fewerSamples, type SkinSamples, sampleSkin, stoodFor } from './sample-skin.ts';
import { SYMMETRY } from './tuning.ts';
import { volumeMoments } from './volume-moments.ts';

/** Finds and measures planes of symmetry of one closed figure. */
export interface SymmetryFinder {
  /** The plane across which most of the figure is its own mirror image. What it comes to says whether that is enough. */
  find(): Symmetry;
  /** How far the figure is symmetric across a given plane. */
  across(plane: Plane): Symmetry;
}

/**
 * A finder for a closed mesh within `bounds`, mm. A plane of symmetry of a solid goes through the centre of its volume and
 * is square to one of its principal axes, exactly (where two moments are equal, to some axis among theirs). What a figure
 * holds or wears on one side takes the centre and the axes along, so that planes in all other directions are tried as
 * well; the best are fitted to what of the skin has an image, and measured. The cost is that of some ten thousand looks
 * for the nearest place of the skin, whatever the figure's size.
 */
export function symmetryFinder(mesh: Mesh, bounds: Bounds): SymmetryFinder {
  const diagonalMm = length(sub(bounds.max, bounds.min));
  const { centroid, second, areaMm2 } = volumeMoments(mesh, bounds);
  const samples = sampleSkin(mesh, areaMm2, SYMMETRY.samples.measured);
  const search = new SkinSearch(mesh);
  const nearMm = nearFor(diagonalMm);
  const across = (plane: Plane) => measureSymmetry(search, samples, plane, diagonalMm);
  return {
    across,
    find() {
      const through = (normal: Vec3): Plane => ({ normal, offset: dot(normal, centroid) });
      const axes = principalAxes(second).map(({ axis }) => through(axis));
      const rough = roughFit(samples, areaMm2, centroid, diagonalMm);
      const tried = rough.best(
        [...axes, ...DIRECTIONS.map(through)],
        SYMMETRY.fitted.roughly,
        SYMMETRY.triedReach * diagonalMm,
      );
      const fitted = distinct([...new Set([...axes, ...tried])].map(rough.fit), diagonalMm);
      const some = fewerSamples(samples, SYMMETRY.samples.finely);
      const finely = rough.best(fitted, SYMMETRY.fitted.finely, SYMMETRY.fittedReach * nearMm).map((plane) =>
        fitPlane(mesh, search, some, plane, {
          pullMm: [nearMm, nearMm],
          steps: SYMMETRY.steps.finely,
          settledMm: SYMMETRY.settled * diagonalMm,
          radiusMm: diagonalMm / 2,
          middle: centroid,
        }),
      );
      const shareOf = (plane: Plane) => mirroredShare(search, some, plane, nearMm);
      return across(facingAlong(figuresOwn(distinct(finely, diagonalMm), shareOf)));
    },
  };
}

/** Tells planes from each other, and betters them, by a skin that stands for the figure's. */
function roughFit(all: SkinSamples, areaMm2: number, middle: Vec3, diagonalMm: number) {
  const mesh = stoodFor(fewerSamples(all, SYMMETRY.samples.stoodFor), areaMm2);
  const search = new SkinSearch(mesh);
  const few = fewerSamples(all, SYMMETRY.samples.tried);
  const some = fewerSamples(all, SYMMETRY.samples.roughly);
  const options: FitOptions = {
    pullMm: [SYMMETRY.pull * diagonalMm, nearFor(diagonalMm)],
    steps: SYMMETRY.steps.roughly,
    settledMm: 0,
    radiusMm: diagonalMm / 2,
    middle,
  };
  return {
    fit: (plane: Plane) => fitPlane(mesh, search, some, plane, options),
    /** The ones that fit best, where no distance counts more than `reachMm`. */
    best: (planes: readonly Plane[], count: number, reachMm: number): Plane[] =>
      planes
        .map((plane) => ({ plane, off: misfit(search, few, plane, reachMm) }))
        .sort((a, b) => a.off - b.off)
        .slice(0, count)
        .map(({ plane }) => plane),
  };
}

/** As even over half a sphere as so many directions can easily be: along a spiral (Vogel, *Math. Biosci.* 44, 1979). */
const DIRECTIONS: readonly Vec3[] = Array.from({ length: SYMMETRY.directions }, (_, k) => {
  const z = (k + 0.5) / SYMMETRY.directions;
  const turn = Math.PI * (3 - Math.sqrt(5)) * k;
  const r = Math.sqrt(1 - z * z);
  return [r * Math.cos(turn), r * Math.sin(turn), z];
});

/** Each plane once, the earlier of two that are the same. */
function distinct(planes: readonly Plane[], diagonalMm: number): Plane[] {
  const kept: Plane[] = [];
  for (const plane of planes) {
    const isKept = kept.some((other) => {
      const along = dot(plane.normal, other.normal);
      const apart = Math.abs(plane.offset * Math.sign(along) - other.offset);
      return Math.abs(along) > Math.cos(SYMMETRY.sameTurn) && apart < SYMMETRY.sameTurn * diagonalMm;
    });
    if (!isKept) kept.push(plane);
  }
  return kept;
}

/** The plane with its normal along the axis it is nearest to, so that the same plane always comes with the same one. */
function facingAlong({ normal, offset }: Plane): Plane {
  const most = Math.max(...normal.map(Math.abs));
  const isTurned = normal[normal.findIndex((c) => Math.abs(c) > most * (1 - 1e-6))] < 0;
  return isTurned ? { normal: scale(normal, -1), offset: -offset } : { normal, offset };
}

/** The best of them; of those as good as that, the one that parts left and right, as the figure stands. */
function figuresOwn(planes: readonly Plane[], shareOf: (plane: Plane) => number): Plane {
  const found = planes.map((plane) => ({ plane, share: shareOf(plane) }));
  const most = Math.max(...found.map(({ share }) => share));
  const level = ({ normal: [x, y] }: Plane) => Math.hypot(x, y) + LEFT_AND_RIGHT * Math.abs(x);
  return found
    .filter(({ share }) => share >= most - SYMMETRY.tie)
    .map(({ plane }) => plane)
    .reduce((a, b) => (level(b) > level(a) + 1e-6 ? b : a));
}

/** How much it counts that a plane parts left and right, against its standing upright. */
const LEFT_AND_RIGHT = 1e-3;
