import type { Kernel } from '../../src/kernel/load.ts';
import type { Bounds } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, partOf } from '../../src/mesh/part/part.ts';
import { partFacts } from '../../src/mesh/part/part-facts.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import { findContacts } from '../../src/seam/contact/contacts.ts';
import { nest } from '../../src/seam/nest/nest.ts';
import { overlapBox } from '../../src/seam/nest/overlap-box.ts';
import { collarOf } from '../../src/seam/nest/trim.ts';
import { icosphere } from '../support/figures.ts';
import { fanned, type Polyhedron } from '../support/simple-solids.ts';
import { median, type Row, row } from './row.ts';

/** Squares along each side of a block: 0.45 million triangles in all. */
const ALONG = 194;

/** The flat faces that two blocks share, found, against the kernel's union of both: each turn with arrays of its own. */
export function touchingRow(kernel: Kernel, runs: number): Row {
  const blocks = [gridded([-40, -40, -40], [40, 40, 0]), gridded([-30, -20, 0], [50, 55, 40])];
  const ours: number[] = [];
  const theirs: number[] = [];
  let isRight = true;
  for (let turn = 0; turn < runs; turn++) {
    const parts = blocks.map(({ positions, triangles }) =>
      partOf({ positions, triangles: triangles.slice() }),
    );
    const start = performance.now();
    const contacts = findContacts(kernel, parts[0], parts[1], [0, 0, 0]);
    ours.push(performance.now() - start);
    isRight &&= contacts.length === 1 && Math.abs(contacts[0].areaMm2 - 70 * 60) < 1e-3;
    const [a, b] = blocks.map(
      ({ positions, triangles }) =>
        new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles })),
    );
    const united = performance.now();
    const whole = a.add(b);
    whole.numTri();
    theirs.push(performance.now() - united);
    for (const solid of [a, b, whole]) solid.delete();
  }
  if (!isRight) throw new Error('the shared faces are not those of the blocks');
  return row(
    'faces that two bodies share',
    { name: 'two blocks', triangles: blocks[0].triangles.length / 3 },
    median(ours),
    { reference: median(theirs), against: 'kernel union of the two', atMost: 0.15 },
  );
}

/** Two spheres of 0.33 million triangles each that overlap in a lens of 7 mm. */
const LARGE = 15;
const SMALL = 12;
const APART = 20;

/**
 * One of two spheres trimmed by the other, against the kernel's own difference of the same collars, taken beforehand: on
 * both sides solids are made of them, taken from each other and read out; ours finds, closes and puts back besides. Each
 * turn with arrays of its own.
 */
export function nestRow(kernel: Kernel, runs: number): Row {
  const sphere = icosphere(7);
  const spheres = [
    { positions: sphere.positions.map((v) => v * LARGE), triangles: sphere.triangles },
    {
      positions: sphere.positions.map((v, i) => v * SMALL + (i % 3 === 2 ? APART : 0)),
      triangles: sphere.triangles,
    },
  ];
  const nesting = { gives: 'front', gapMm: 0, rimMm: 0, flat: null } as const;
  const where = { seamId: 'nest', originMm: [0, 0, 0], of: ['large', 'small'] } as const;
  const ours: number[] = [];
  const theirs: number[] = [];
  let isClosed = true;
  for (let turn = 0; turn < runs; turn++) {
    const [large, small] = spheres.map(({ positions, triangles }) =>
      partOf({ positions, triangles: triangles.slice() }),
    );
    const start = performance.now();
    const nested = nest(kernel, large, small, nesting, null, where);
    ours.push(performance.now() - start);
    isClosed &&= nested !== null && partFacts(nested.parts.front).faultyEdges === 0;
    const box = overlapBox(large, small, 0) as Bounds;
    const collars = [large, small].map((part) => meshOf(collarOf(part, box)));
    const began = performance.now();
    const [a, b] = collars.map(
      ({ positions, triangles }) =>
        new kernel.Manifold(new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles })),
    );
    const left = a.subtract(b);
    left.getMesh();
    theirs.push(performance.now() - began);
    for (const solid of [a, b, left]) solid.delete();
  }
  return row(
    'one of two bodies that overlap trimmed',
    { name: 'two spheres', triangles: (spheres[0].triangles.length / 3) * 2 },
    median(ours),
    {
      reference: median(theirs),
      against: 'kernel construct + difference + read-out of the same collars, taken beforehand',
      atMost: 1.1,
      closed: isClosed,
    },
  );
}

/** A block whose sides are grids of squares. */
function gridded(min: readonly number[], max: readonly number[]): Mesh {
  const vertices: Polyhedron['vertices'] = [];
  const faces: number[][] = [];
  for (let axis = 0; axis < 3; axis++) {
    for (const isHigh of [false, true]) {
      const first = vertices.length;
      const [u, v] = [(axis + 1) % 3, (axis + 2) % 3];
      for (let j = 0; j <= ALONG; j++) {
        for (let i = 0; i <= ALONG; i++) {
          const corner: [number, number, number] = [0, 0, 0];
          corner[axis] = (isHigh ? max : min)[axis];
          corner[u] = min[u] + ((max[u] - min[u]) * i) / ALONG;
          corner[v] = min[v] + ((max[v] - min[v]) * j) / ALONG;
          vertices.push(corner);
        }
      }
      for (let j = 0; j < ALONG; j++) {
        for (let i = 0; i < ALONG; i++) {
          const a = first + j * (ALONG + 1) + i;
          const square = [a, a + 1, a + ALONG + 2, a + ALONG + 1];
          faces.push(isHigh ? square : square.reverse());
        }
      }
    }
  }
  return weld(fanned({ vertices, faces })).mesh;
}
