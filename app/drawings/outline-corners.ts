import { outlineFault, outlineIn, tidy, type Vec2, withOutline } from './engine.ts';
import { type PegPatch, type PegShape, spinOf } from './peg-shape.ts';

/** Corners of a joint's own outline, between its own axes and the face's frame, mm. The axes are seen from its tip. */

type Axes = Pick<PegShape, 'uv' | 'pegOn'> & { spinDeg: number };

const upOf = ({ pegOn }: Axes): 1 | -1 => (pegOn === 'back' ? 1 : -1);

function onFace(axes: Axes, [x, y]: Vec2): Vec2 {
  const a = (axes.spinDeg * Math.PI) / 180;
  const [c, s, up] = [Math.cos(a), Math.sin(a), upOf(axes) * y];
  return [axes.uv[0] + c * x - s * up, axes.uv[1] + s * x + c * up];
}

/** A place of the face in the joint's own axes, as it is written. */
export function inOwnAxes(axes: Axes, [u, v]: Vec2): Vec2 {
  const a = (axes.spinDeg * Math.PI) / 180;
  const [dx, dy] = [u - axes.uv[0], v - axes.uv[1]];
  return [
    tidy(Math.cos(a) * dx + Math.sin(a) * dy),
    tidy(upOf(axes) * (Math.cos(a) * dy - Math.sin(a) * dx)),
  ];
}

const axesOf = (shape: PegShape): Axes => ({ uv: shape.uv, pegOn: shape.pegOn, spinDeg: spinOf(shape) });

const widthOf = (outline: readonly Vec2[]): number => {
  const xs = outline.map(([x]) => x);
  return Math.max(...xs) - Math.min(...xs);
};

/** Its outline as large as it is made; none where it has none of its own. */
function madeOutline({ sizes }: PegShape): Vec2[] {
  const outline = outlineIn(sizes) ?? [];
  const share = outline.length > 0 ? (sizes.widthMm ?? 0) / widthOf(outline) : 1;
  return outline.map(([x, y]): Vec2 => [x * share, y * share]);
}

/** The corners of a joint's own outline in the face's frame. */
export const cornersOnFace = (shape: PegShape): Vec2[] =>
  madeOutline(shape).map((corner) => onFace(axesOf(shape), corner));

/** What bringing a corner to a place of the face does: the outline stays as large as it is drawn then. Nothing where it would cross itself. */
export function movedCorner(shape: PegShape, corner: number, to: Vec2): PegPatch {
  const moved = madeOutline(shape).map(
    ([x, y], i): Vec2 => (i === corner ? inOwnAxes(axesOf(shape), to) : [tidy(x), tidy(y)]),
  );
  return outlineFault(moved) ? {} : { sizes: withOutline({ widthMm: widthOf(moved) }, moved) };
}
