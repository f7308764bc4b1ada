/** A typed array that counts how often an element of it is read, as a measure of work that no clock disturbs. */
export function countedReads<T extends Float32Array | Float64Array | Uint32Array>(
  array: T,
): { array: T; reads: () => number } {
  let count = 0;
  const counting = new Proxy(array, {
    get(all, key) {
      const value: unknown = Reflect.get(all, key, all);
      if (typeof value === 'function') return value.bind(all);
      if (key !== 'length') count++;
      return value;
    },
    set: (all, key, value) => Reflect.set(all, key, value, all),
  });
  return { array: counting, reads: () => count };
}
