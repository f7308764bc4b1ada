import { useCallback, useLayoutEffect, useRef } from 'react';

/** The newest of a component's handlers behind one that never changes: children that are drawn once stay as they are. */
export function useSteady<A extends unknown[], R>(handler: (...args: A) => R): (...args: A) => R {
  const latest = useRef(handler);
  useLayoutEffect(() => {
    latest.current = handler;
  });
  return useCallback((...args) => latest.current(...args), []);
}
