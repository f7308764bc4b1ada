let calm = false;

/** Changes the state without haste: what hangs on it may be drawn in slices, over the next moments. */
export function calmly(change: () => void): void {
  const before = calm;
  calm = true;
  try {
    change();
  } finally {
    calm = before;
  }
}

/** True while a change of that kind is being made. */
export const isCalm = (): boolean => calm;
