import { useEffect, useMemo } from 'react';
import { Matrix4, Vector3 } from 'three';
import {
  type FaceResult,
  fromFrame,
  mirroredPlace,
  type Plane,
  planeFrame,
  planeOf,
  type SculptSummary,
  type SeamPlane,
  toFrame,
  type Vec3,
} from '../../src/index.ts';
import { facesOnBench } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { mirrorPlane } from '../state/mirroring.ts';
import { useBench } from '../state/workbench.tsx';
import { edgesAlong } from './SeamPatch.tsx';
import { type Stage, toScene } from './scene-space.ts';
import { ThinSheet } from './ThinSheet.tsx';
import type { Tones } from './use-tones.ts';

/** How far the sheet reaches past the figure on each side, as a share of the sheet. */
const MARGIN = 0.06;

interface MirrorPatchProps {
  summary: SculptSummary;
  tones: Tones;
}

/** While a seam is being mirrored: the plane through the whole figure as a thin sheet, and where the seam's outline would be. */
export function MirrorPatch({ summary, tones }: MirrorPatchProps) {
  const plane = useBench(mirrorPlane, isSame);
  const faces = useBench((s) => (s.sitting.mirroring ? facesOnBench(s, s.sitting.seamId) : null));
  if (plane === null) return null;
  return (
    <>
      <Sheet plane={plane} summary={summary} tones={tones} />
      {faces && <Image faces={faces} plane={plane} summary={summary} tones={tones} />}
    </>
  );
}

function Sheet({ plane, summary, tones }: MirrorPatchProps & { plane: SeamPlane }) {
  const matrix = useMemo(() => sheetOver(planeOf(plane), summary), [plane, summary]);
  return (
    <group matrix={matrix} matrixAutoUpdate={false}>
      <ThinSheet color={tones.focus} opacity={[0.1, 0.9]} isSeenThrough />
    </group>
  );
}

/** Lays a square from −1 to 1 over all of a figure's box, as it is seen square to the plane. */
function sheetOver(plane: Plane, summary: SculptSummary): Matrix4 {
  const { min, max } = summary.boundsMm;
  const frame = planeFrame(plane);
  const corners = Array.from({ length: 8 }, (_, k) =>
    toFrame(frame, [0, 1, 2].map((axis) => (k & (1 << axis) ? max : min)[axis]!) as unknown as Vec3),
  );
  const [us, vs] = [0, 1].map((k) => corners.map((corner) => corner[k]!));
  const [left, right, low, high] = [Math.min(...us!), Math.max(...us!), Math.min(...vs!), Math.max(...vs!)];
  const centre = fromFrame(frame, [(left + right) / 2, (low + high) / 2]);
  return new Matrix4()
    .makeBasis(new Vector3(...frame.u), new Vector3(...frame.v), new Vector3(...frame.n))
    .scale(new Vector3(((right - left) / 2) * (1 + MARGIN), ((high - low) / 2) * (1 + MARGIN), 1))
    .setPosition(...toScene(summary, centre));
}

interface ImageProps extends MirrorPatchProps {
  faces: readonly FaceResult[];
  plane: SeamPlane;
}

function Image({ faces, plane, summary, tones }: ImageProps) {
  const edges = useMemo(
    () => edgesAlong(faces.flatMap((face) => imagesOf(face, planeOf(plane), summary))),
    [faces, plane, summary],
  );
  useEffect(() => () => edges.dispose(), [edges]);
  return (
    <lineSegments geometry={edges} raycast={() => undefined} renderOrder={5} frustumCulled={false}>
      <lineBasicMaterial
        color={tones.focus}
        transparent
        opacity={0.95}
        depthTest={false}
        depthWrite={false}
      />
    </lineSegments>
  );
}

/** Scene points of the mirror images of a face's outlines, x, y, z each. */
const imagesOf = ({ frame, outlines }: FaceResult, mirror: Plane, stage: Stage): Float32Array[] =>
  outlines.map((outline) => {
    const points = new Float32Array((outline.length / 2) * 3);
    for (let i = 0; i < outline.length; i += 2) {
      const at = fromFrame(frame, [outline[i]!, outline[i + 1]!]);
      points.set(toScene(stage, mirroredPlace(mirror, at)), (i / 2) * 3);
    }
    return points;
  });
