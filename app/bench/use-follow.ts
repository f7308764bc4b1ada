import { useLayoutEffect, useRef } from 'react';
import type { Anchor, Viewfinder } from './viewfinder.ts';

/** Ref for an element that follows a point of the scene. */
export function useFollow<E extends HTMLElement>(viewfinder: Viewfinder, anchor: Anchor) {
  const ref = useRef<E>(null);
  useLayoutEffect(() => {
    if (ref.current) return viewfinder.follow(ref.current, anchor);
  });
  return ref;
}
