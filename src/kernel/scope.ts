/** Something in the kernel's memory that must be given back. */
export interface Handle {
  delete(): void;
}

/** Registers a handle with the scope that will free it, and answers it. */
export type Own = <H extends Handle>(handle: H) => H;

/**
 * Runs `work` and frees every handle it owned, newest first, whether it returned or threw.
 * Results must be plain data: no handle outlives its scope.
 */
export function scoped<T>(work: (own: Own) => T): T {
  const handles: Handle[] = [];
  try {
    return work((handle) => {
      handles.push(handle);
      return handle;
    });
  } finally {
    for (const handle of handles.reverse()) handle.delete();
  }
}
