import { useEffect, useMemo } from 'react';
import { BufferGeometry, Float32BufferAttribute } from 'three';

interface ThinLoopProps {
  /** x, y, z each. */
  points: Float32Array;
  color: string;
  opacity: number;
  /** The line shows through the clay. */
  isSeenThrough?: boolean;
}

/**
 * A closed thin line. The stock line of the renderer's helpers gives its program up whenever its points change,
 * and compiling it anew holds the page for a good part of a second where the graphics card is slow.
 */
export function ThinLoop({ points, color, opacity, isSeenThrough = false }: ThinLoopProps) {
  const geometry = useMemo(() => {
    const made = new BufferGeometry();
    made.setAttribute('position', new Float32BufferAttribute(points, 3));
    return made;
  }, [points]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <lineLoop geometry={geometry} raycast={() => undefined} renderOrder={isSeenThrough ? 5 : 0}>
      <lineBasicMaterial
        color={color}
        transparent
        opacity={opacity}
        depthTest={!isSeenThrough}
        depthWrite={false}
      />
    </lineLoop>
  );
}
