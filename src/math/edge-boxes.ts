/** Edges that share a box. */
export const RUN = 16;

const known = new WeakMap<Float64Array, Float64Array>();

/**
 * The boxes (min x, y, max x, y) of every `RUN` edges of a closed loop of flat x, y pairs, each edge named by its end.
 * Kept as long as the loop is.
 */
export function edgeBoxes(loop: Float64Array): Float64Array {
  let boxes = known.get(loop);
  if (!boxes) {
    boxes = new Float64Array(Math.ceil(loop.length / (RUN * 2)) * 4);
    for (let run = 0; run < boxes.length; run += 4) fillBox(loop, boxes, run);
    known.set(loop, boxes);
  }
  return boxes;
}

function fillBox(loop: Float64Array, boxes: Float64Array, run: number): void {
  const from = (run / 4) * RUN * 2;
  const end = Math.min(loop.length, from + RUN * 2);
  // The run's first edge starts at the point before it.
  const before = from === 0 ? loop.length - 2 : from - 2;
  let [x0, y0, x1, y1] = [loop[before], loop[before + 1], loop[before], loop[before + 1]];
  for (let i = from; i < end; i += 2) {
    x0 = Math.min(x0, loop[i]);
    y0 = Math.min(y0, loop[i + 1]);
    x1 = Math.max(x1, loop[i]);
    y1 = Math.max(y1, loop[i + 1]);
  }
  boxes[run] = x0;
  boxes[run + 1] = y0;
  boxes[run + 2] = x1;
  boxes[run + 3] = y1;
}
