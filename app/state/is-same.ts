/** Equal as documents: what would be saved is the same. */
export const isSame = <T>(a: T, b: T): boolean => a === b || JSON.stringify(a) === JSON.stringify(b);
