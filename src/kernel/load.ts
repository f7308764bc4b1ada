import Module, { type ManifoldToplevel } from 'manifold-3d';
import { PegwrightError } from '../errors.ts';

/** The solid kernel, one per thread. Loading is asynchronous, everything after it is not. */
export type Kernel = ManifoldToplevel;

let loading: Promise<Kernel> | undefined;

/** How the kernel's own loader and browsers say that its file could not be fetched. */
const NOT_FETCHED = /fetch|network|load/i;

/**
 * Loads the kernel on first call; later calls answer the same one.
 * @throws PegwrightError `not-loaded`; the next call tries anew.
 */
export function loadKernel(): Promise<Kernel> {
  loading ??= Module().then(
    (kernel) => {
      kernel.setup();
      return kernel;
    },
    (thrown) => {
      loading = undefined;
      throw NOT_FETCHED.test(String(thrown)) ? new PegwrightError('not-loaded', { what: 'kernel' }) : thrown;
    },
  );
  return loading;
}
