/**
 * The convex ring around flat points (x, y each), counter-clockwise, without points that lie straight between others: the
 * number of each corner's point (Andrew's monotone chain: *Inf. Process. Lett.* 9(5), 1979). Points on one line give its
 * two ends, and one place gives one of its points.
 */
export function convexRing(points: Float64Array): Uint32Array {
  const order = sortedOrder(points);
  const ring = new Uint32Array(order.length + 1);
  let count = 0;
  const walk = (from: number, to: number, step: number, floor: number): void => {
    for (let i = from; i !== to; i += step) {
      const next = order[i];
      if (count > floor && isSamePlace(points, ring[count - 1], next)) continue;
      while (count >= floor + 2 && !turnsLeft(points, ring[count - 2], ring[count - 1], next)) count--;
      ring[count++] = next;
    }
  };
  walk(0, order.length, 1, 0);
  // The last corner of the lower chain is the first of the upper one, which ends where the lower one began.
  walk(order.length - 2, -1, -1, count - 1);
  const isClosed = count > 1 && isSamePlace(points, ring[0], ring[count - 1]);
  return ring.subarray(0, isClosed ? count - 1 : count);
}

const isSamePlace = (p: Float64Array, a: number, b: number): boolean =>
  p[a * 2] === p[b * 2] && p[a * 2 + 1] === p[b * 2 + 1];

const turnsLeft = (p: Float64Array, a: number, b: number, c: number): boolean =>
  (p[b * 2] - p[a * 2]) * (p[c * 2 + 1] - p[a * 2 + 1]) -
    (p[b * 2 + 1] - p[a * 2 + 1]) * (p[c * 2] - p[a * 2]) >
  0;

/** Steps that Shell's sort takes (M. Ciura, *FCT* 2001): rings are made by the thousand, of few points each. */
const GAPS = [701, 301, 132, 57, 23, 10, 4, 1];

/** The numbers of the points by x and then y. */
function sortedOrder(points: Float64Array): Uint32Array {
  const order = new Uint32Array(points.length / 2);
  for (let i = 0; i < order.length; i++) order[i] = i;
  for (const gap of GAPS) {
    for (let i = gap; i < order.length; i++) {
      const point = order[i];
      let at = i;
      while (at >= gap && isBefore(points, point, order[at - gap])) {
        order[at] = order[at - gap];
        at -= gap;
      }
      order[at] = point;
    }
  }
  return order;
}

const isBefore = (p: Float64Array, a: number, b: number): boolean =>
  p[a * 2] < p[b * 2] || (p[a * 2] === p[b * 2] && p[a * 2 + 1] < p[b * 2 + 1]);
