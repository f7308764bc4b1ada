import { useEffect, useMemo } from 'react';
import { BufferGeometry, Float32BufferAttribute } from 'three';

interface ThinLinesProps {
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
export function ThinLoop(props: ThinLinesProps) {
  const { geometry, material, order } = useThinLines(props);
  return (
    <lineLoop geometry={geometry} raycast={unseen} renderOrder={order}>
      {material}
    </lineLoop>
  );
}

/** Thin lines from each point to the one after it, two by two. */
export function ThinPairs(props: ThinLinesProps) {
  const { geometry, material, order } = useThinLines(props);
  return (
    <lineSegments geometry={geometry} raycast={unseen} renderOrder={order}>
      {material}
    </lineSegments>
  );
}

/** No pointer meets a thin line. */
const unseen = () => undefined;

function useThinLines({ points, color, opacity, isSeenThrough = false }: ThinLinesProps) {
  const geometry = useMemo(() => {
    const made = new BufferGeometry();
    made.setAttribute('position', new Float32BufferAttribute(points, 3));
    return made;
  }, [points]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  const material = (
    <lineBasicMaterial
      color={color}
      transparent
      opacity={opacity}
      depthTest={!isSeenThrough}
      depthWrite={false}
    />
  );
  return { geometry, material, order: isSeenThrough ? 5 : 0 };
}
