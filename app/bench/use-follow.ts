import { type RefObject, useLayoutEffect, useRef } from 'react';
import type { Anchor, Viewfinder } from './viewfinder.ts';

/** Ref for an element that follows a point of the scene. */
export function useFollow<E extends HTMLElement>(viewfinder: Viewfinder, anchor: Anchor) {
  const ref = useRef<E>(null);
  useLayoutEffect(() => {
    if (ref.current) viewfinder.follow(ref.current, anchor);
  });
  useLetGo(viewfinder, ref);
  return ref;
}

/** Lets go of an element that follows a point of the scene when it leaves the page. */
export function useLetGo(viewfinder: Viewfinder, ref: RefObject<HTMLElement | null>): void {
  useLayoutEffect(() => {
    const element = ref.current;
    return () => {
      if (element) viewfinder.letGo(element);
    };
  }, [viewfinder, ref]);
}
