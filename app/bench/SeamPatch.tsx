import { useThree } from '@react-three/fiber';
import { useCallback, useEffect, useMemo, useRef } from 'react';
import {
  BufferAttribute,
  BufferGeometry,
  DynamicDrawUsage,
  type Group,
  type Matrix4,
  Sphere,
  Vector3,
} from 'three';
import type { FaceResult, PlaneFrame, SculptSummary } from '../../src/index.ts';
import { type BenchState, facesOnBench } from '../state/bench-state.ts';
import { useWatch } from '../state/workbench.tsx';
import { createHandleOf } from './handle-of.ts';
import type { Handle } from './handle-pose.ts';
import { type Stage, toScene } from './scene-space.ts';
import { ThinSheet } from './ThinSheet.tsx';
import type { Tones } from './use-tones.ts';

interface SeamPatchProps {
  summary: SculptSummary;
  tones: Tones;
}

/** The seam's plane as a thin sheet, and the face's outline on it. */
export const SeamPatch = (props: SeamPatchProps) => (
  <>
    <Sheet {...props} />
    <FaceOutline {...props} />
  </>
);

function Sheet({ summary, tones }: SeamPatchProps) {
  const sheet = useRef<Group>(null);
  const invalidate = useThree((s) => s.invalidate);
  const place = useCallback(
    (handle: Handle | null) => {
      if (sheet.current === null) return;
      sheet.current.visible = handle !== null;
      if (handle !== null) poseOn(sheet.current.matrix, handle, summary);
      invalidate();
    },
    [summary, invalidate],
  );
  useWatch(useMemo(createHandleOf, []), place);
  return (
    <group ref={sheet} matrixAutoUpdate={false}>
      <ThinSheet color={tones.ink} opacity={[0.07, 0.55]} />
    </group>
  );
}

/** Lays a square from −1 to 1 over the handle's rectangle. */
function poseOn(matrix: Matrix4, { u, v, n, centre, halfU, halfV }: Handle, stage: Stage): void {
  matrix.makeBasis(new Vector3(...u), new Vector3(...v), new Vector3(...n));
  matrix.scale(new Vector3(halfU, halfV, 1)).setPosition(...toScene(stage, centre));
}

function FaceOutline({ summary, tones }: SeamPatchProps) {
  const invalidate = useThree((s) => s.invalidate);
  const geometry = useMemo(unboundedLines, []);
  const draw = useCallback(
    (faces: readonly FaceResult[]) => {
      writeEdges(geometry, faces, summary);
      invalidate();
    },
    [geometry, summary, invalidate],
  );
  useWatch(chosenFaces, draw, haveSameOutlines);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <lineSegments geometry={geometry} raycast={unseen} renderOrder={5} frustumCulled={false}>
      <lineBasicMaterial color={tones.ink} transparent opacity={0.85} depthTest={false} depthWrite={false} />
    </lineSegments>
  );
}

const chosenFaces = (state: BenchState): readonly FaceResult[] => facesOnBench(state, state.sitting.seamId);

/** Outlines that stay are the same ones from view to view. */
const haveSameOutlines = (a: readonly FaceResult[], b: readonly FaceResult[]): boolean =>
  a.length === b.length && a.every(({ outlines }, i) => outlines === b[i].outlines);

/** No pointer meets an outline. */
const unseen = () => undefined;

/** Lines that are always drawn: where they end is not asked, which would mean going through all of them at every change. */
function unboundedLines(): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.boundingSphere = new Sphere(new Vector3(), Number.POSITIVE_INFINITY);
  return geometry;
}

/**
 * Writes the edges of faces' outlines, and of those their planes leave whole, over those that a geometry has, in the
 * scene: under a hand they change many times a second, and nothing is made for them that would be thrown away.
 */
function writeEdges(geometry: BufferGeometry, faces: readonly FaceResult[], stage: Stage): void {
  const loops = faces.flatMap(({ frame, outlines, uncut }) =>
    [...outlines, ...uncut].map((outline) => ({ frame, outline })),
  );
  // Each point of a loop ends two edges.
  const count = loops.reduce((sum, { outline }) => sum + outline.length, 0);
  const places = roomFor(geometry, count);
  const ends = places.array as Float32Array;
  let at = 0;
  for (const { frame, outline } of loops) {
    const { u, v } = frame;
    const from = toScene(stage, frame.origin);
    const put = (i: number) => {
      for (let k = 0; k < 3; k++) ends[at++] = from[k] + outline[i] * u[k] + outline[i + 1] * v[k];
    };
    for (let i = 0, before = outline.length - 2; i < outline.length; before = i, i += 2) {
      put(before);
      put(i);
    }
  }
  places.needsUpdate = true;
  geometry.setDrawRange(0, count);
}

/** The places of a geometry: at least `count`. */
function roomFor(geometry: BufferGeometry, count: number): BufferAttribute {
  const had = geometry.getAttribute('position') as BufferAttribute | undefined;
  if (had && had.count >= count) return had;
  geometry.dispose();
  const wider = new BufferAttribute(new Float32Array(2 * 3 * count), 3).setUsage(DynamicDrawUsage);
  geometry.setAttribute('position', wider);
  return wider;
}

/** The edges of closed loops of points (x, y, z each): two ends each. */
export function edgesAlong(loops: readonly Float32Array[]): BufferGeometry {
  const ends = new Float32Array(2 * loops.reduce((sum, loop) => sum + loop.length, 0));
  let at = 0;
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 3, at += 6) {
      const next = (i + 3) % loop.length;
      for (let k = 0; k < 3; k++) {
        ends[at + k] = loop[i + k];
        ends[at + 3 + k] = loop[next + k];
      }
    }
  }
  return new BufferGeometry().setAttribute('position', new BufferAttribute(ends, 3));
}

/** Scene points of a closed outline in a plane's frame, x, y, z each. */
export function scenePoints({ origin, u, v }: PlaneFrame, outline: Float64Array, stage: Stage): Float32Array {
  const points = new Float32Array((outline.length / 2) * 3);
  const from = toScene(stage, origin);
  for (let i = 0, at = 0; i < outline.length; i += 2)
    for (let k = 0; k < 3; k++) points[at++] = from[k] + outline[i] * u[k] + outline[i + 1] * v[k];
  return points;
}
