import type { Mesh } from '../mesh/mesh.ts';
import { makeBreastPlumes } from './breast-plumes.ts';
import { displace } from './displace.ts';
import { type Field, RELIEF_REACH_MM, uniteParts } from './field.ts';
import { makeStyle } from './figure-style.ts';
import { makeTrunk, makeTrunkChain, makeWings } from './heron-body.ts';
import { makeBeak, makeHead, makeNeck } from './heron-head.ts';
import { makeLegs } from './heron-legs.ts';
import { makeLantern, makeRing } from './lantern.ts';
import { keepLargestShell } from './largest-shell.ts';
import { makeMussels } from './mussels.ts';
import { polygonise } from './polygonise.ts';
import { makeBand, makePost, makeWater, POST_TOP_MM } from './post.ts';
import { joinMeshes, type RawMesh, vertexNormals } from './raw-mesh.ts';
import { makeCoil, makeRopeEnd } from './rope.ts';
import { projectAlongNormals, settle } from './settle.ts';
import { subdivide } from './subdivide.ts';

export interface HeronOptions {
  /** About how many triangles, 20,000 to 8,000,000; the count lands within 15 % of it. */
  triangles: number;
  /** Another seed gives another grain, other cracks and other feathers. */
  seed?: number;
}

/** The holes through each shell, in the order in which the shells stand in the mesh. */
export const HERON_SHELLS: readonly { name: string; holes: number }[] = [
  { name: 'heron', holes: 1 },
  { name: 'ring', holes: 1 },
  { name: 'lantern', holes: 9 },
  ...[1, 2, 3].map((n) => ({ name: `mussel ${n}`, holes: 0 })),
];

export const HERON_SEED = 7;

/** Most triangles taken straight from the grid; larger figures are subdivided from a coarser one. */
const GRID_TRIANGLES = 420_000;
/** Cell sizes of the small shells against the heron's. */
const SHELL_FINENESS = { ring: 0.5, lantern: 0.5, mussel: 0.55 } as const;
/** Grid cell of the trial that tells how many triangles a cell size gives, mm. */
const TRIAL_CELL_MM = 2.4;
const SETTLE_ROUNDS = 5;

/**
 * A harbour heron on a mooring post with a lantern on its beak: about 180 mm high, standing on z = 0,
 * looking along +x, in several closed shells that do not touch. The same options always give the same bytes.
 */
export function buildHeron({ triangles, seed = HERON_SEED }: HeronOptions): Mesh {
  const trial = countTriangles(makeShells(seed, TRIAL_CELL_MM), TRIAL_CELL_MM);
  const splits = Math.max(0, Math.ceil(Math.log(triangles / GRID_TRIANGLES) / Math.log(4)));
  const cell = TRIAL_CELL_MM * Math.sqrt((trial * 4 ** splits) / triangles);
  const finestMm = (1.6 * cell) / 2 ** splits;
  const meshes = makeShells(seed, finestMm).map((shell) => buildShell(shell, cell * shell.fineness, splits));
  const whole = joinMeshes(meshes);
  return { positions: Float32Array.from(whole.positions), triangles: whole.triangles };
}

interface Shell {
  field: Field;
  fineness: number;
}

function makeShells(seed: number, finestMm: number): Shell[] {
  const style = makeStyle(seed, finestMm);
  const fine = makeStyle(seed, finestMm * SHELL_FINENESS.mussel);
  const trunk = makeTrunkChain();
  const [body, neck] = [makeTrunk(style, trunk), makeNeck(style)];
  const heron = uniteParts([
    makePost(style, seed),
    makeWater(style),
    makeBand(style),
    makeCoil(),
    makeRopeEnd(),
    body,
    makeWings(style, trunk),
    neck,
    ...makeLegs(style, POST_TOP_MM),
    ...makeBreastPlumes(style, [body, neck]),
    ...makeHead(style),
    makeBeak(),
  ]);
  return [
    { field: heron, fineness: 1 },
    { field: makeRing(), fineness: SHELL_FINENESS.ring },
    { field: makeLantern(fine), fineness: SHELL_FINENESS.lantern },
    ...makeMussels(fine, heron).map((field) => ({ field, fineness: SHELL_FINENESS.mussel })),
  ];
}

const countTriangles = (shells: readonly Shell[], cell: number): number =>
  shells.reduce(
    (n, { field, fineness }) => n + polygonise(field.smooth, field.box, cell * fineness).triangles.length / 3,
    0,
  );

/**
 * One shell: the smooth body from the grid, evened out, split as often as asked, then pushed out or in
 * along its own smooth normals to where the relief lies. The relief comes last, in one move, because
 * normals of a smooth body do not cross within the relief's height.
 */
function buildShell({ field }: Shell, cell: number, splits: number): RawMesh {
  let mesh = keepLargestShell(polygonise(field.smooth, field.box, cell));
  settle(mesh, field.smooth, SETTLE_ROUNDS, cell);
  for (let i = 0; i < splits; i++) {
    const first = mesh.positions.length / 3;
    mesh = subdivide(mesh);
    projectAlongNormals(mesh, field.smooth, {
      normals: vertexNormals(mesh),
      rounds: 2,
      longest: cell / 2 ** (i + 2),
      first,
    });
  }
  displace(mesh, field.detailed, RELIEF_REACH_MM);
  return mesh;
}
