/** What seams, and parts by their ids (`seam.front`), are called where a sentence names one. */
export interface Names {
  seam(id: string): string;
  part(id: string): string;
}

/** By their ids, as a job's own text has them. */
export const AS_WRITTEN: Names = { seam: (id) => id, part: (id) => id };
