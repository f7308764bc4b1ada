/** Triangles a block holds. Figures keep neighbours together, so a block's box is small. */
const BLOCK = 128;

/** min x, y, z, max x, y, z of each run of `BLOCK` triangles. Kept as long as the triangles are. */
const boxesOf = new WeakMap<Uint32Array, Float32Array>();

/** Tells which triangles (index of the first corner) have a box that meets `box` (min x, y, z, max x, y, z; mm). */
export function forEachNear(
  positions: Float32Array,
  triangles: Uint32Array,
  box: Float64Array,
  visit: (triangle: number) => void,
): void {
  let boxes = boxesOf.get(triangles);
  if (!boxes) {
    boxes = blockBoxes(positions, triangles);
    boxesOf.set(triangles, boxes);
  }
  for (let block = 0; block * 6 < boxes.length; block++) {
    if (boxApart(boxes, block * 6, box)) continue;
    const end = Math.min(triangles.length, (block + 1) * BLOCK * 3);
    for (let i = block * BLOCK * 3; i < end; i += 3) {
      if (!apart(positions, triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3, box)) visit(i);
    }
  }
}

function blockBoxes(p: Float32Array, triangles: Uint32Array): Float32Array {
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

function boxApart(boxes: Float32Array, at: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) if (boxes[at + k] > box[k + 3] || boxes[at + 3 + k] < box[k]) return true;
  return false;
}

function apart(p: Float32Array, a: number, b: number, c: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) {
    if (p[a + k] < box[k] && p[b + k] < box[k] && p[c + k] < box[k]) return true;
    if (p[a + k] > box[k + 3] && p[b + k] > box[k + 3] && p[c + k] > box[k + 3]) return true;
  }
  return false;
}
