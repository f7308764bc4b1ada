import { add, scale, type Vec3 } from '../math/vec3.ts';
import { type DisplayMesh, smoothDisplay, smoothRuns } from '../mesh/display.ts';
import { boundsOf } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { patchMesh } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import { bareName, bodyIds } from '../model/part-ref.ts';
import { bodiesIn, calledIn } from '../pipeline/bodies.ts';
import { drawSection, type Focus } from '../pipeline/draw-section.ts';
import type { Evaluated } from '../pipeline/evaluate.ts';
import type { FaceResult } from '../pipeline/evaluation.ts';
import type { FinishedPart } from '../pipeline/joint-step.ts';
import type { Sculpt } from '../pipeline/sculpt.ts';
import { type WallContour, wallContours } from '../seam/wall-contours.ts';
import type {
  BodySummary,
  Glimpse,
  LidView,
  PartView,
  SculptSummary,
  SentView,
  SkinView,
} from './protocol.ts';

/** Names what is heavy, so that the page is sent it only once. */
export interface Keys {
  keyOf(one: object): string;
}

export function createKeys(): Keys {
  const keys = new WeakMap<object, string>();
  let next = 1;
  return {
    keyOf(one) {
      const key = keys.get(one) ?? `${next++}`;
      keys.set(one, key);
      return key;
    },
  };
}

export function summaryOf(sculpt: Sculpt): SculptSummary {
  const { file, format, unit, declaredUnit, boundsMm, volumeMm3, areaMm2, originMm } = sculpt;
  const { findings, repairs, bodies, solid } = sculpt;
  return {
    file,
    format,
    unit,
    declaredUnit,
    triangles: sculpt.mesh.triangles.length / 3,
    vertices: sculpt.mesh.positions.length / 3,
    shells: sculpt.audit.shellCount,
    boundsMm,
    volumeMm3,
    areaMm2,
    originMm,
    findings,
    repairs,
    bodies,
    solids: solid ? solidsOf(sculpt) : [],
    solid,
  };
}

function solidsOf(sculpt: Sculpt): BodySummary[] {
  const { file, originMm } = sculpt;
  const bodies = bodiesIn(sculpt);
  const ids = bodyIds(bodies.map(({ name }) => name));
  return bodies.map((body, i) => ({
    id: ids[i],
    name: calledIn(bareName(file), body),
    named: body.name,
    boundsMm: { min: add(body.bounds.min, originMm), max: add(body.bounds.max, originMm) },
  }));
}

/** A mesh for the screen. Its arrays are copies: they leave the worker. */
export const displayOf = ({ positions, triangles }: Mesh): DisplayMesh =>
  smoothDisplay({ positions: positions.slice(), triangles: triangles.slice() });

export function glimpseOf(mesh: Mesh, originMm: Vec3): Glimpse {
  const { min, max } = boundsOf(mesh);
  const boundsMm = { min: add(min, originMm), max: add(max, originMm) };
  return { mesh: displayOf(mesh), boundsMm, originMm };
}

/** What the page draws of an evaluation. All meshes in it are copies: they leave the worker. */
export function viewOf(
  { evaluation, tree }: Evaluated,
  job: Job,
  focus: Focus | null,
  originMm: Vec3,
  keys: Keys,
  held: readonly string[],
): SentView {
  const parts = evaluation.parts.map((result, i): PartView => {
    const finished = tree.parts[i];
    return {
      ...result,
      skins: skinsOf(finished, keys, held),
      lid: lidOf(finished, keys, held),
      ...roleOf(finished, job, tree),
    };
  });
  return {
    ...evaluation,
    parts,
    ...facesOf(evaluation, job, keys, held),
    section: focus && drawSection(tree, focus, originMm),
  };
}

function skinsOf({ part }: FinishedPart, { keyOf }: Keys, held: readonly string[]): SkinView[] {
  const runs = part.patches.filter(({ of }) => of.kind === 'skin').map(({ triangles }) => triangles);
  const wanted = runs.map((run) => !held.includes(keyOf(run)));
  const meshes = wanted.includes(true) ? smoothRuns(part, runs, (run) => wanted[run]) : [];
  return runs.map((run, i) => ({ key: keyOf(run), mesh: meshes[i] ?? null }));
}

/** A part that stays as it was finished is the same one. */
function lidOf({ part }: FinishedPart, { keyOf }: Keys, held: readonly string[]): LidView {
  const key = keyOf(part);
  if (held.includes(key)) return { key, mesh: null };
  const { positions, triangles } = patchMesh(part, (of) => of.kind !== 'skin');
  return { key, mesh: { positions, triangles } };
}

/** Which side of its last seam a part is on, and where it goes when the parts are pulled apart. */
function roleOf(
  finished: FinishedPart,
  job: Job,
  tree: Evaluated['tree'],
): Pick<PartView, 'pegged' | 'away'> {
  const { plain, ofJoint } = finished;
  if (ofJoint) return { pegged: null, away: betweenHosts(ofJoint, job, tree) };
  const away: [number, number, number] = [0, 0, 0];
  let pegged: boolean | null = null;
  for (const seam of job.seams) {
    const side = plain.sides.get(seam.id);
    const cut = tree.seams.find(({ cut: c }) => c.seam.id === seam.id);
    if (!side || !cut) continue;
    pegged = side === seam.pegOn;
    const sign = side === 'front' ? 1 : -1;
    for (let k = 0; k < 3; k++) away[k] += (sign * cut.cut.cut.draw.axis[k]) / 2;
  }
  return { pegged, away };
}

/** What lies loose in a joint stays halfway between the parts it is in. */
function betweenHosts(
  { seamId, jointId }: { seamId: string; jointId: string },
  job: Job,
  tree: Evaluated['tree'],
): Vec3 {
  const joints = tree.seams.find(({ cut }) => cut.seam.id === seamId)?.joints;
  const hosted = joints?.find(({ settled }) => settled.id === jointId)?.pieces ?? [];
  const hosts = hosted.flatMap(({ host }) => tree.parts.find(({ plain }) => plain.id === host.partId) ?? []);
  return hosts
    .map((host) => roleOf(host, job, tree).away)
    .reduce<Vec3>((sum, away) => add(sum, scale(away, 1 / hosts.length)), [0, 0, 0]);
}

/** Seams with their faces' outlines, and contours of these. */
function facesOf(
  evaluation: Evaluated['evaluation'],
  job: Job,
  { keyOf }: Keys,
  held: readonly string[],
): Pick<SentView, 'seams' | 'contours' | 'faceKeys'> {
  const levels = levelsFor(job.process.minWallMm);
  const [contours, faceKeys]: [SentView['contours'], SentView['faceKeys']] = [{}, {}];
  const seams = evaluation.seams.map((seam) => {
    // A loop that stays as it was is the same one, in whatever list it comes.
    const keysOf = (loops: readonly Float64Array[]) => loops.map(keyOf).join('+');
    const faces = seam.facets.map(({ outlines, uncut }) => `${keysOf(outlines)}-${keysOf(uncut)}`);
    const key = `${job.process.minWallMm}: ${faces.join()}`;
    faceKeys[seam.id] = key;
    if (held.includes(key))
      return { ...seam, facets: seam.facets.map((face) => ({ ...face, outlines: [], uncut: [] })) };
    contours[seam.id] = seam.facets.map(({ outlines }) => cachedContours(outlines, levels));
    return seam;
  });
  return { seams, contours, faceKeys };
}

/** Contours of a face that is still being moved. */
export const liveContours = ({ outlines }: FaceResult, minWallMm: number): WallContour[] =>
  wallContours(outlines, levelsFor(minWallMm));

/** Walls worth a curve, mm: the one the process asks for, and twice and four times that. */
function levelsFor(minWallMm: number): number[] {
  const wall = Math.max(minWallMm, 0.5);
  return [wall, 2 * wall, 4 * wall];
}

/** By the first of the outlines that they are of. */
const contourCache = new WeakMap<
  Float64Array,
  { outlines: readonly Float64Array[]; key: string; contours: WallContour[] }
>();

/** Contours are traced anew only for new outlines or another wall. */
function cachedContours(outlines: readonly Float64Array[], levels: number[]): WallContour[] {
  if (outlines.length === 0) return [];
  const key = levels.join();
  const known = contourCache.get(outlines[0]);
  const isKnown =
    known?.outlines.length === outlines.length && known.outlines.every((o, i) => o === outlines[i]);
  if (isKnown && known.key === key) return known.contours;
  const contours = wallContours([...outlines], levels);
  contourCache.set(outlines[0], { outlines, key, contours });
  return contours;
}
