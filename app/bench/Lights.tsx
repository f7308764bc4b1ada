import { useFrame } from '@react-three/fiber';
import { useRef } from 'react';
import type { Group } from 'three';
import type { Ball } from './scene-space.ts';

/** Strengths of the lamps: a warm key from above left, a dim cool fill, a rim behind that draws the edge. */
const LAMPS = { sky: 0.7, key: 2.35, fill: 0.5, rim: 1.2 };

/** Lamps that turn with the viewer, so that form always reads. */
export function Lights({ figure }: { figure: Ball }) {
  const rig = useRef<Group>(null);
  useFrame(({ camera }) => {
    const [x, y] = figure.centre;
    if (rig.current)
      rig.current.rotation.z = Math.atan2(camera.position.y - y, camera.position.x - x) + Math.PI / 2;
  });
  return (
    <>
      <hemisphereLight args={['#ffffff', '#857d72', LAMPS.sky]} position={[0, 0, 1]} />
      <group ref={rig}>
        <directionalLight color="#fff3e2" intensity={LAMPS.key} position={[-4, -3, 5]} />
        <directionalLight color="#dfe8f2" intensity={LAMPS.fill} position={[5, -3, 0.5]} />
        <directionalLight color="#ffffff" intensity={LAMPS.rim} position={[2, 5, 3]} />
      </group>
    </>
  );
}
