/** Where in the window an event of the pointer was, CSS px. */
export type PointerPlace = Pick<PointerEvent, 'type' | 'clientX' | 'clientY'>;
