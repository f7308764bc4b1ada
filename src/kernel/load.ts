import Module, { type ManifoldToplevel } from 'manifold-3d';

/** The solid kernel, one per thread. Loading is asynchronous, everything after it is not. */
export type Kernel = ManifoldToplevel;

let loading: Promise<Kernel> | undefined;

/** Loads the kernel on first call; later calls answer the same one. */
export function loadKernel(): Promise<Kernel> {
  loading ??= Module().then((kernel) => {
    kernel.setup();
    return kernel;
  });
  return loading;
}
