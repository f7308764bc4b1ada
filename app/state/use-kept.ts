import { useRef } from 'react';

/** The value as it was first given, for as long as it is the same: what hangs on it is not done again. */
export function useKept<T>(value: T, isSame: (a: T, b: T) => boolean): T {
  const kept = useRef(value);
  if (!isSame(kept.current, value)) kept.current = value;
  return kept.current;
}
