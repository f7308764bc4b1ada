import { numeral } from '../words.ts';
import { Dimension } from './Dimension.tsx';
import { layoutDimension, numeralsPx } from './dimension-layout.ts';
import type { Vec2 } from './engine.ts';
import type { LiveWall } from './nearest-between.ts';
import { type Size, toScreen, type View } from './view.ts';
import './WallDimension.css';

export interface WallDimensionProps {
  wall: LiveWall;
  minWallMm: number;
  view: View;
  size: Size;
}

const margin = 8;

/** Whether text of `textPx` about `at`, turned by `angleDeg`, stays on the paper. */
function fits(at: Vec2, angleDeg: number, textPx: number, size: Size): boolean {
  const a = (angleDeg * Math.PI) / 180;
  const [dx, dy] = [
    Math.abs(Math.cos(a)) * (textPx / 2) + margin,
    Math.abs(Math.sin(a)) * (textPx / 2) + margin,
  ];
  return at[0] > dx && at[1] > dy && at[0] < size.width - dx && at[1] < size.height - dy;
}

/** The wall at its thinnest: the shortest line from socket to skin with its length, hot when too little; a cross where there is none. */
export function WallDimension({ wall, minWallMm, view, size }: WallDimensionProps) {
  const from = toScreen(view, wall.from);
  const to = toScreen(view, wall.to);
  if (wall.broken) {
    return (
      <g className="face-wall is-thin" data-testid="face-wall">
        <path className="drawing-hot" d={`M${to[0] - 5} ${to[1] - 5}l10 10m0 -10l-10 10`} />
      </g>
    );
  }
  const thin = wall.mm < minWallMm;
  const text = numeral(wall.mm);
  const textPx = numeralsPx(text);
  const outward = layoutDimension(from, to, { textPx });
  const layout =
    outward.inside || fits(outward.text.at, outward.text.angleDeg, textPx, size)
      ? outward
      : layoutDimension(from, to, { textPx, textAt: 'from' });
  return (
    <g data-testid="face-wall">
      <Dimension layout={layout} text={text} className={`face-wall${thin ? ' is-thin' : ''}`} />
    </g>
  );
}
