import { finding } from '../check/finding.ts';
import { poleOf } from '../joint/pole.ts';
import { leastWidth, type PegShape, widthFor } from '../joint/size-peg.ts';
import { suggestPlaces } from '../joint/suggest-places.ts';
import { type Loop, regionArea, windingAt } from '../math/polygon.ts';
import { regionsOf } from '../math/regions.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Peg, Process } from '../model/job.ts';
import { fitPeg, isMisfit } from './fit-peg.ts';
import type { PlacedJoint, SeamHosts, SettledPeg, SettledSeam } from './settled.ts';

/** Seats a peg of a seam, by its index, at a foot in the seam's frame. */
export type Settle = (index: number, foot: Vec2, shape: PegShape) => SettledPeg;

interface AutoPeg {
  peg: Peg;
  index: number;
}

/** A region of a seam's face and how many pegs it is to have. */
interface Share {
  region: Loop[];
  /** Of pegs that a person placed there. */
  placed: number;
  autos: AutoPeg[];
}

/**
 * Pegs without a place of their own, kept clear of the `taken` outlines. `rims` are those of the pegs a person placed.
 * Every face on which a peg may fit gets one before any gets a second; where fewer are asked for than there are such
 * faces, the last one asked for is repeated, numbered on after the seam's own.
 */
export function settleAutos(
  { seam, socketed }: SeamHosts,
  process: Process,
  others: readonly PlacedJoint[],
  rims: readonly Loop[],
  taken: readonly Loop[],
  settle: Settle,
): SettledSeam {
  const autos = seam.pegs.flatMap((peg, index) => (peg.at === 'auto' ? [{ peg, index }] : []));
  const done: SettledSeam = { pegs: [], findings: [] };
  if (autos.length === 0) return done;
  const regions = socketed
    .flatMap(({ face }) => regionsOf(face.loops))
    .sort((a, b) => regionArea(b) - regionArea(a));
  for (const { region, autos: here } of shareOut(regions, autos, rims, process, seam.pegs.length)) {
    const places = suggestPlaces(region, taken, here.length);
    here.forEach(({ peg, index }, i) => {
      const place = places.at(i);
      const fitted = fitPeg(peg, process, others, place?.radius ?? 0, (shape) =>
        settle(index, place?.at ?? [0, 0], shape),
      );
      if (!isMisfit(fitted)) done.pegs.push(fitted);
      // One that nobody asked for is told of as a face without a peg.
      else if (index < seam.pegs.length)
        done.findings.push(finding('no-peg-fits', 'error', fitted, { seamId: seam.id, pegIndex: index }));
    });
  }
  return done;
}

/** Which auto pegs each region gets; the further ones of a seam go where a peg has most area to itself. */
function shareOut(
  regions: readonly Loop[][],
  autos: readonly AutoPeg[],
  rims: readonly Loop[],
  process: Process,
  nextIndex: number,
): Share[] {
  const shares = regions.map((region): Share => {
    const placed = rims.filter((rim) => windingAt(region, rim[0], rim[1]) === 1).length;
    return { region, placed, autos: [] };
  });
  const last = autos[autos.length - 1];
  const roomy =
    regions.length > 1 ? shares.filter(({ region }) => mayHold(region, last.peg, process)) : shares;
  const waiting = [...autos];
  let next = nextIndex;
  for (const share of roomy.filter(({ placed }) => placed === 0))
    share.autos.push(waiting.shift() ?? { peg: last.peg, index: next++ });
  const open = roomy.length > 0 ? roomy : shares;
  for (const auto of waiting) {
    const areaEach = ({ region, placed, autos: here }: Share) =>
      regionArea(region) / (placed + here.length + 1);
    open.reduce((a, b) => (areaEach(b) > areaEach(a) ? b : a)).autos.push(auto);
  }
  return shares.filter(({ autos: here }) => here.length > 0);
}

/** True where a region is wide enough for a peg that can be printed, whatever lies behind it. */
export function mayHold(region: readonly Loop[], peg: Peg, process: Process): boolean {
  const needed = leastWidth(peg, process);
  return needed !== null && widthFor(peg, process, poleOf(region)?.radius ?? 0) >= needed;
}
