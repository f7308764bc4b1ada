import { useFrame } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { createContactShadow, sheetHalf } from './contact-shadow.ts';
import type { Ball } from './scene-space.ts';
import { ThinLoop } from './ThinLoop.tsx';

/** A level circle, for the rings that mark the bed: x, y, z each. */
function ring(radius: number): Float32Array {
  const points = new Float32Array(96 * 3);
  for (let i = 0; i < 96; i++) {
    points[i * 3] = radius * Math.cos((i * Math.PI) / 48);
    points[i * 3 + 1] = radius * Math.sin((i * Math.PI) / 48);
  }
  return points;
}

/** A length for rings under a figure of that radius: 1, 2 or 5 of a power of ten, mm. */
function ringStep(radius: number): number {
  const decade = 10 ** Math.floor(Math.log10(radius));
  return [1, 2, 5, 10].map((k) => (k * decade) / 2).find((step) => step >= radius / 3) ?? decade;
}

interface GroundProps {
  figure: Ball;
  bedZ: number;
  color: string;
  /** A new value each time what stands on the bed has changed. */
  stir: unknown;
}

/** The bed: the figure's shadow where it comes near, and thin rings a round length apart that give its size. */
export function Ground({ figure, bedZ, color, stir }: GroundProps) {
  const step = ringStep(figure.radius);
  const [x, y] = figure.centre;
  const rings = useMemo(() => [1, 2, 3].map((k) => ring(k * step)), [step]);
  const shadow = useMemo(createContactShadow, []);
  useEffect(() => () => shadow.dispose(), [shadow]);
  const stale = useMemo(() => ({ stir, is: true }), [stir]);
  useFrame(({ gl, scene }) => {
    if (!stale.is) return;
    stale.is = false;
    shadow.draw(gl, scene, figure, bedZ);
  });
  return (
    <group position={[x, y, bedZ - figure.radius * 0.002]}>
      <mesh material={shadow.material} raycast={() => undefined} scale={sheetHalf(figure)}>
        <planeGeometry args={[2, 2]} />
      </mesh>
      {rings.map((points, k) => (
        <ThinLoop key={k} points={points} color={color} opacity={0.16} />
      ))}
    </group>
  );
}
