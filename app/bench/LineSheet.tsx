import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three';
import { sweptLine, type Vec3 } from '../../src/index.ts';
import { isSame } from '../state/is-same.ts';
import { useBench, useSeam } from '../state/workbench.tsx';
import { type Stage, toScene } from './scene-space.ts';
import type { Tones } from './use-tones.ts';

interface LineSheetProps {
  stage: Stage;
  tones: Tones;
}

/** The line that is drawn, or that the chosen seam is swept from, and the sheet that it sweeps: thin, like a seam's plane. */
export function LineSheet({ stage, tones }: LineSheetProps) {
  const seamId = useBench((s) => s.sitting.seamId);
  const drawing = useBench((s) => s.sitting.drawing);
  const swept = useSeam(seamId, (seam) => sweptLine(seam.by), isSame);
  const { line, along } = drawing ? { line: drawing.points, along: drawing.along } : (swept ?? NO_LINE);
  const made = useMemo(
    () => (along && line.length > 1 ? shapesOf(line, along, stage) : null),
    [line, along, stage],
  );
  useEffect(
    () => () => {
      made?.strip.dispose();
      made?.sheet.dispose();
    },
    [made],
  );
  if (made === null) return null;
  return (
    <>
      <mesh geometry={made.sheet} raycast={() => undefined} frustumCulled={false}>
        <meshBasicMaterial color={tones.ink} transparent opacity={0.1} side={DoubleSide} depthWrite={false} />
      </mesh>
      <lineSegments geometry={made.strip} raycast={() => undefined} renderOrder={6} frustumCulled={false}>
        <lineBasicMaterial color={tones.ink} transparent opacity={0.9} depthTest={false} depthWrite={false} />
      </lineSegments>
    </>
  );
}

const NO_LINE = { line: [] as readonly Vec3[], along: null };

/** The line as segments, and the sheet through all of the figure: two triangles a run. Scene coordinates. */
function shapesOf(
  line: readonly Vec3[],
  along: Vec3,
  stage: Stage,
): { strip: BufferGeometry; sheet: BufferGeometry } {
  const points = line.map((p) => toScene(stage, p));
  const length = Math.hypot(...along);
  const unit = along.map((c) => c / length) as unknown as Vec3;
  const heightOf = (p: Vec3) => p[0] * unit[0] + p[1] * unit[1] + p[2] * unit[2];
  const { min, max } = stage.boundsMm;
  const heights = [0, 1, 2, 3, 4, 5, 6, 7].map((bits) =>
    heightOf(
      toScene(stage, [bits & 1 ? max[0] : min[0], bits & 2 ? max[1] : min[1], bits & 4 ? max[2] : min[2]]),
    ),
  );
  const at = (p: Vec3, height: number): Vec3 => {
    const by = height - heightOf(p);
    return [p[0] + by * unit[0], p[1] + by * unit[1], p[2] + by * unit[2]];
  };
  const [low, high] = [Math.min(...heights), Math.max(...heights)];
  const segments: number[] = [];
  const corners: number[] = [];
  points.slice(1).forEach((b, i) => {
    const a = points[i]!;
    segments.push(...a, ...b);
    const [aLow, aHigh, bLow, bHigh] = [at(a, low), at(a, high), at(b, low), at(b, high)];
    corners.push(...aLow, ...bLow, ...bHigh, ...aLow, ...bHigh, ...aHigh);
  });
  const geometryOf = (values: number[]) =>
    new BufferGeometry().setAttribute('position', new BufferAttribute(Float32Array.from(values), 3));
  return { strip: geometryOf(segments), sheet: geometryOf(corners) };
}
