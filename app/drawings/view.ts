import type { Vec2 } from './engine.ts';
import { TUNING } from './tuning.ts';

/** The way a world's y goes on the screen: up, or down. */
export type Way = 1 | -1;

/** World (mm) to screen (px, y down): the place of the world's origin, px per mm, and which way the world's y goes. */
export interface View {
  scale: number;
  x: number;
  y: number;
  way: Way;
}

export interface Size {
  width: number;
  height: number;
}

/** A rectangle on the screen, px. */
export interface Rect extends Size {
  x: number;
  y: number;
}

/** World bounds, mm. */
export interface Bounds {
  min: Vec2;
  max: Vec2;
}

export const toScreen = (view: View, p: Vec2): Vec2 => [
  view.x + view.scale * p[0],
  view.y - view.way * view.scale * p[1],
];

export const toWorld = (view: View, q: Vec2): Vec2 => [
  (q[0] - view.x) / view.scale,
  (view.way * (view.y - q[1])) / view.scale,
];

const clampScale = (scale: number): number =>
  Math.min(TUNING.zoomPxPerMm[1], Math.max(TUNING.zoomPxPerMm[0], scale));

/** The view that shows `bounds` as large as they go in the middle of `rect`. */
export function fitView(bounds: Bounds, rect: Rect, way: Way = 1): View {
  const w = Math.max(bounds.max[0] - bounds.min[0], 1e-6);
  const h = Math.max(bounds.max[1] - bounds.min[1], 1e-6);
  const scale = clampScale(Math.min(Math.max(rect.width, 1) / w, Math.max(rect.height, 1) / h));
  return {
    scale,
    x: rect.x + rect.width / 2 - (scale * (bounds.min[0] + bounds.max[0])) / 2,
    y: rect.y + rect.height / 2 + (way * scale * (bounds.min[1] + bounds.max[1])) / 2,
    way,
  };
}

/** Zooms by `factor`, keeping what is under the screen point `q` where it is. */
export function zoomAt(view: View, q: Vec2, factor: number): View {
  const scale = clampScale(view.scale * factor);
  const k = scale / view.scale;
  return { ...view, scale, x: q[0] - k * (q[0] - view.x), y: q[1] - k * (q[1] - view.y) };
}

export const panBy = (view: View, dx: number, dy: number): View => ({
  ...view,
  x: view.x + dx,
  y: view.y + dy,
});

/** Bounds of flat x, y pairs; a unit square when there are none. */
export function boundsOf(lines: readonly Float64Array[]): Bounds {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const line of lines) {
    for (let i = 0; i < line.length; i += 2) {
      x0 = Math.min(x0, line[i]);
      x1 = Math.max(x1, line[i]);
      y0 = Math.min(y0, line[i + 1]);
      y1 = Math.max(y1, line[i + 1]);
    }
  }
  return x0 <= x1 ? { min: [x0, y0], max: [x1, y1] } : { min: [-0.5, -0.5], max: [0.5, 0.5] };
}
