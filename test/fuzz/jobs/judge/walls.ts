import { type Fault, fault } from './fault.ts';
import type { FoundJoint } from './joints.ts';
import { boxesMeet, boxOf, centreOf, exitAt, normalOf, type Triangle } from './triangle.ts';
import { plus, times } from './vectors.ts';

/** A ray's wall may be less than the reported one by this, mm: facets, and what single precision moves. */
const SLACK = 0.005;
/** No wall is looked for farther off than this, mm. */
const FAR = 10;

/** The wall of a socket by rays into the material, against what was reported and what was asked for. */
export function wallFaults(
  { seamId, peg, socketPart, socketTriangles }: FoundJoint,
  minWallMm: number,
): Fault[] {
  if (!socketPart) return [];
  const slack = SLACK + 4 * socketPart.stepMm;
  const wanted = Math.min(FAR, Math.max(peg.wallMm.min, minWallMm));
  const wall = leastWall(socketPart.triangles, socketTriangles, wanted);
  const faults: Fault[] = [];
  if (wall < Math.min(peg.wallMm.min, wanted) - slack)
    faults.push(fault('wall-reported', [seamId], `a ray finds ${wall}, ${peg.wallMm.min} reported`));
  if (wall < minWallMm - slack)
    faults.push(fault('wall-thin', [seamId], `a ray finds ${wall}, ${minWallMm} asked`));
  return faults;
}

/** The shortest way from the socket's surface through material and out of it again, square to the surface. */
function leastWall(part: readonly Triangle[], socket: readonly Triangle[], wanted: number): number {
  const own = new Set(socket);
  const box = boxOf(socket.flat(), wanted + 0.1);
  const others = part
    .filter((t) => !own.has(t))
    .map((triangle) => ({ triangle, box: boxOf(triangle, 1e-6) }))
    .filter((one) => boxesMeet(one.box, box));
  let least = wanted;
  for (const t of socket) {
    const into = times(normalOf(t), -1);
    const centre = centreOf(t);
    for (const p of [centre, ...t.map((corner) => plus(times(corner, 0.98), times(centre, 0.02)))]) {
      const path = boxOf([plus(p, times(into, -BEHIND)), plus(p, times(into, least))]);
      for (const other of others) {
        if (!boxesMeet(other.box, path)) continue;
        const mm = exitAt(other.triangle, p, into);
        if (mm !== null && mm > -BEHIND && mm < least) least = Math.max(0, mm);
      }
    }
  }
  return least;
}

/** A skin may have come to lie in front of the socket's surface by rounding, mm. */
const BEHIND = 1e-4;
