/** What a binary STL holds, read and checked the plain way, apart from the engine. */
export function isClosedStl(bytes: Uint8Array) {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const triangles = view.getUint32(80, true);
  if (bytes.byteLength !== 84 + 50 * triangles) throw new Error('the length does not fit the count');
  const edges = new Map<string, number>();
  const min = [Infinity, Infinity, Infinity];
  let six = 0;
  for (let t = 0; t < triangles; t++) {
    const corners = [0, 1, 2].map((k) =>
      [0, 1, 2].map((axis) => view.getFloat32(84 + t * 50 + 12 + k * 12 + axis * 4, true)),
    );
    const [a, b, c] = corners;
    six +=
      a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
    corners.forEach((corner, k) => {
      corner.forEach((v, axis) => {
        min[axis] = Math.min(min[axis], v);
      });
      const [from, to] = [corner.join(), corners[(k + 1) % 3].join()];
      const back = edges.get(`${to} ${from}`) ?? 0;
      // Each edge once one way and once the other: what is left over is open.
      if (back > 0) edges.set(`${to} ${from}`, back - 1);
      else edges.set(`${from} ${to}`, (edges.get(`${from} ${to}`) ?? 0) + 1);
    });
  }
  const closed = [...edges.values()].every((left) => left === 0);
  return { triangles, closed, volume: six / 6, min };
}
