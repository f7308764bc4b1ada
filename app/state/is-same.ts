/**
 * True where what would be saved is the same: plain data, compared value by value, a field that is undefined as one that is
 * not there. What both have in common costs nothing, which is most of a job under a hand.
 */
export function isSame<T>(a: T, b: T): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return a === b;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const [one, other] = [a as Record<string, unknown>, b as Record<string, unknown>];
  for (const key in one) if (!isSame(one[key], other[key])) return false;
  for (const key in other) if (other[key] !== undefined && one[key] === undefined) return false;
  return true;
}
