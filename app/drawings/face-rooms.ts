import type { FaceResult } from './engine.ts';
import type { DrawnPeg } from './face-model.ts';
import type { Room } from './label-layout.ts';
import { isClockwise } from './nearest-between.ts';
import { fromPegAxes, reachOf } from './peg-shape.ts';
import { TUNING } from './tuning.ts';
import { boundsOf, toScreen, type View } from './view.ts';

/** What contour labels keep out of on the face: pegs, holes, the chosen peg's knob and the wall's dimension. */
export function takenRooms(
  drawn: readonly DrawnPeg[],
  chosen: DrawnPeg | undefined,
  face: FaceResult,
  view: View,
): Room[] {
  const pegs = drawn.map(({ shape }) => ({
    at: toScreen(view, shape.uv),
    radius: Math.hypot(...reachOf(shape).peg) * view.scale + 4,
  }));
  const holes = face.outlines.filter(isClockwise).map((o) => {
    const { min, max } = boundsOf([o]);
    return {
      at: toScreen(view, [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2]),
      radius: 0.5 * Math.max(max[0] - min[0], max[1] - min[1]) * view.scale + 2,
    };
  });
  return [...pegs, ...holes, ...(chosen ? [knobRoom(chosen, view), ...wallRooms(chosen, view)] : [])];
}

function knobRoom({ shape }: DrawnPeg, view: View): Room {
  const out = TUNING.spinStemPx / Math.SQRT2 / view.scale;
  const [x, y] = reachOf(shape).peg;
  const at = toScreen(view, fromPegAxes(shape, x + out, y + out));
  return { at, radius: TUNING.handlePx };
}

/** Along the wall's dimension, and past its end where the text may stand. */
function wallRooms({ wall }: DrawnPeg, view: View): Room[] {
  if (!wall) return [];
  const [from, to] = [toScreen(view, wall.from), toScreen(view, wall.to)];
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const rooms: Room[] = [];
  for (let s = 0; s < length + 50; s += 10) {
    const t = s / length;
    rooms.push({ at: [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])], radius: 10 });
  }
  return rooms;
}
