import { useThree } from '@react-three/fiber';
import { memo, useCallback, useEffect, useLayoutEffect, useMemo } from 'react';
import { type Plane, Vector4 } from 'three';
import type { DisplayMesh, Mesh, Vec3 } from '../../src/index.ts';
import type { BenchState } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { useWatch } from '../state/workbench.tsx';
import { createClay, createInside } from './clay.ts';
import { geometryOf } from './geometry.ts';
import { FIGURE_MASK } from './layers.ts';
import type { Ball } from './scene-space.ts';

/** The plane that shows two tones while a seam moves: unit normal and offset in the scene. */
export interface Split {
  normal: Vec3;
  offset: number;
  front: string;
  back: string;
  line: string;
}

interface FigureMeshProps {
  /** Shaded flat where it comes without normals. */
  mesh: Mesh | DisplayMesh;
  ball: Ball;
  color: string;
  position?: Vec3;
  clip: Plane[];
  /** Where the two tones part; one tone without it. */
  splitOf?: (state: BenchState) => Split | null;
  /** The surface has holes through which its inside is seen. */
  isOpen?: boolean;
}

/** Nothing of the figure answers to pointers through ray casting: a test against a million triangles is no hover. */
const noRaycast = () => undefined;

const undivided = () => null;

const HOME: Vec3 = [0, 0, 0];

/** One clay mesh. Its geometry lives as long as its arrays do. */
export const FigureMesh = memo((props: FigureMeshProps) => {
  const { mesh, ball, color, position = HOME, clip, splitOf = undivided, isOpen = false } = props;
  const invalidate = useThree((s) => s.invalidate);
  const geometry = useMemo(() => geometryOf(mesh, ball), [mesh, ball]);
  const isFlat = !('normals' in mesh);
  const clay = useMemo(() => createClay(clip, isFlat), [clip, isFlat]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  const inside = useMemo(
    () => (isOpen || clip.length > 0 ? createInside(clip, color) : null),
    [isOpen, clip, color],
  );
  useEffect(() => () => clay.material.dispose(), [clay]);
  useEffect(() => () => inside?.dispose(), [inside]);
  useLayoutEffect(() => {
    clay.material.color.set(color);
    invalidate();
  }, [clay, color, invalidate]);
  const paint = useCallback(
    (split: Split | null) => {
      const { seam, front, back, line } = clay.uniforms;
      seam.value.copy(split ? new Vector4(...split.normal, -split.offset) : new Vector4());
      if (split) {
        front.value.set(split.front);
        back.value.set(split.back);
        line.value.set(split.line);
      }
      invalidate();
    },
    [clay, invalidate],
  );
  useWatch(splitOf, paint, isSame);
  // The canvas draws on demand: say so when anything it shows has changed.
  useLayoutEffect(invalidate, [geometry, inside, position, invalidate]);
  const place = position as [number, number, number];
  return (
    <>
      <mesh
        geometry={geometry}
        material={clay.material}
        position={place}
        raycast={noRaycast}
        layers-mask={FIGURE_MASK}
      />
      {inside && <mesh geometry={geometry} material={inside} position={place} raycast={noRaycast} />}
    </>
  );
});
