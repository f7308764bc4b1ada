import {
  type ErrorRecord,
  type Job,
  type Outline,
  outlineFault,
  readSvgOutline,
  type Vec2,
  type Vec3,
} from '../../src/index.ts';
import type { Sitting } from './bench-state.ts';
import { setJoint, setOutline } from './job-edits.ts';
import type { BenchStore } from './ports.ts';
import { asErrorRecord } from './refusal.ts';

interface OutlinePorts {
  store: BenchStore;
  sit(patch: Partial<Sitting>): void;
  apply(change: (job: Job) => Job): void;
  refuse(said: ErrorRecord): void;
}

/** Points nearer together than this are one, mm. */
const LEAST_STEP_MM = 0.02;

/** A joint's own outline: drawn corner by corner in the face drawing, or taken from an SVG path or drawing; one step of undo. */
export function createOutlineDrawing({ store, sit, apply, refuse }: OutlinePorts) {
  const draft = () => store.getState().sitting.outlining;
  const withPoints = (points: readonly Vec2[]) => sit({ outlining: { ...draft()!, points } });
  return {
    begin: (seamId: string, jointId: string) =>
      sit({ outlining: { seamId, jointId, points: [] }, adding: false, seeking: false, drawing: null }),
    cancel: () => sit({ outlining: null }),
    /** A corner, in the face's frame. */
    add(at: Vec2) {
      const last = draft()?.points.at(-1);
      if (draft() === null || (last && Math.hypot(at[0] - last[0], at[1] - last[1]) < LEAST_STEP_MM)) return;
      withPoints([...draft()!.points, at]);
    },
    takeBack() {
      if (draft() !== null) withPoints(draft()!.points.slice(0, -1));
    },
    /** The outline as it was drawn, in the joint's own axes, and where these stand; one that is not sound stays to be corrected. */
    close(outline: Outline, at: Vec3) {
      const drawn = draft();
      if (drawn === null) return;
      const { seamId, jointId } = drawn;
      const fault = outlineFault(outline);
      if (fault) return refuse({ code: 'outline-refused', facts: { file: null, fault } });
      sit({ outlining: null });
      apply((job) => setJoint(setOutline(job, seamId, jointId, outline), seamId, jointId, { at }));
    },
    /** The outline of an SVG path or drawing; `file` is null for what was typed. */
    async take(seamId: string, jointId: string, file: string | null, text: string | Promise<string>) {
      try {
        const outline = await readSvgOutline(file, await text);
        sit({ outlining: null });
        apply((job) => setOutline(job, seamId, jointId, outline));
      } catch (thrown) {
        refuse(asErrorRecord(thrown));
      }
    },
  };
}
