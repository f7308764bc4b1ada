/** Triangles a block holds. Figures keep neighbours together, so a block's box is small. */
export const BLOCK = 128;

const known = new WeakMap<Uint32Array, Float32Array>();

/** The box of each run of `BLOCK` triangles: min x, y, z, max x, y, z, mm. Kept as long as the triangles are. */
export function blockBoxes(positions: Float32Array, triangles: Uint32Array): Float32Array {
  let boxes = known.get(triangles);
  if (!boxes) {
    boxes = makeBoxes(positions, triangles);
    known.set(triangles, boxes);
  }
  return boxes;
}

function makeBoxes(p: Float32Array, triangles: Uint32Array): Float32Array {
  const count = Math.ceil(triangles.length / (BLOCK * 3));
  const boxes = new Float32Array(count * 6);
  for (let block = 0; block < count; block++) {
    let [x0, y0, z0, x1, y1, z1] = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];
    const end = Math.min(triangles.length, (block + 1) * BLOCK * 3);
    for (let i = block * BLOCK * 3; i < end; i++) {
      const v = triangles[i] * 3;
      if (p[v] < x0) x0 = p[v];
      if (p[v] > x1) x1 = p[v];
      if (p[v + 1] < y0) y0 = p[v + 1];
      if (p[v + 1] > y1) y1 = p[v + 1];
      if (p[v + 2] < z0) z0 = p[v + 2];
      if (p[v + 2] > z1) z1 = p[v + 2];
    }
    boxes.set([x0, y0, z0, x1, y1, z1], block * 6);
  }
  return boxes;
}
