/** Runs of vertex ids (triangles, rings), one after the other in one array. */
export function joinIndices(runs: readonly Uint32Array[]): Uint32Array {
  const all = new Uint32Array(runs.reduce((n, { length }) => n + length, 0));
  let at = 0;
  for (const run of runs) {
    all.set(run, at);
    at += run.length;
  }
  return all;
}
