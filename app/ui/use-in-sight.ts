import { type RefObject, useLayoutEffect } from 'react';

/**
 * Scrolls the list a row stands in, and nothing around it, so that the chosen row is in sight, with the whole of its
 * group where there is room: again when another is chosen, and when its group has another number of rows.
 */
export function useInSight(row: RefObject<HTMLElement | null>, isChosen: boolean, rowCount: number): void {
  useLayoutEffect(() => {
    const list = row.current?.closest<HTMLElement>('[data-scrolls]');
    if (!isChosen || !row.current || !list) return;
    const group = row.current.closest('[data-group]');
    if (group) bring(group, list);
    bring(row.current, list);
  }, [row, isChosen, rowCount]);
}

/** The least scrolling that shows `row`, its beginning first where it is higher than the list. */
function bring(row: Element, list: HTMLElement): void {
  const { top, bottom } = row.getBoundingClientRect();
  const seen = list.getBoundingClientRect();
  if (top < seen.top || bottom - top > seen.height) list.scrollTop += top - seen.top;
  else if (bottom > seen.bottom) list.scrollTop += bottom - seen.bottom;
}
