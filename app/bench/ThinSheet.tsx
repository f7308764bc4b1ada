import { DoubleSide } from 'three';
import { ThinLoop } from './ThinLoop.tsx';

/** The sheet's corners, x, y, z each. */
const CORNERS = Float32Array.of(-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0);

interface ThinSheetProps {
  color: string;
  /** Of the sheet, and of the line around it. */
  opacity: readonly [number, number];
  /** The line shows through the clay. */
  isSeenThrough?: boolean;
}

/** A plane as a thin sheet from −1 to 1 across x and y, with a line around it: what it stands in lays it where it belongs. */
export const ThinSheet = ({ color, opacity: [sheet, line], isSeenThrough = false }: ThinSheetProps) => (
  <>
    <mesh raycast={() => undefined}>
      <planeGeometry args={[2, 2]} />
      {/* A flat sheet has nothing behind itself: drawn for each of its sides, it would have its program looked up anew each time. */}
      <meshBasicMaterial
        color={color}
        transparent
        opacity={sheet}
        side={DoubleSide}
        forceSinglePass
        depthWrite={false}
      />
    </mesh>
    <ThinLoop points={CORNERS} color={color} opacity={line} isSeenThrough={isSeenThrough} />
  </>
);
