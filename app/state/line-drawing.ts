import { type Job, type Notice, notice, rounded, roundTo, type Vec3 } from '../../src/index.ts';
import { jobOf, type Sitting } from './bench-state.ts';
import { drawnLine, findSeam } from './job-edits.ts';
import type { BenchStore } from './ports.ts';

interface LinePorts {
  store: BenchStore;
  sit(patch: Partial<Sitting>): void;
  apply(change: (job: Job) => Job): void;
  tell(said: Notice): void;
}

/** Points nearer together than this as the line is seen are one, mm. */
const LEAST_STEP_MM = 0.05;

/** Drawing a line over the figure, click by click, from which the chosen seam is then swept: one step of undo. */
export function createLineDrawing({ store, sit, apply, tell }: LinePorts) {
  const draft = () => store.getState().sitting.drawing;
  return {
    /** Begins anew; where parts are pulled apart a click is not where it seems. */
    begin: () =>
      sit({
        drawing: { points: [], along: null },
        seeking: false,
        mirroring: null,
        adding: false,
        explode: 0,
        clipped: false,
      }),
    cancel: () => sit({ drawing: null }),
    /** A point, in the file's coordinates, and where one looks at it from: the first one decides how the line is swept. */
    add(at: Vec3, towardsEye: Vec3) {
      const drawing = draft();
      if (drawing === null) return;
      const along = drawing.along ?? tidyDirection(towardsEye);
      const last = drawing.points.at(-1);
      if (last && stepAcross(last, at, along) < LEAST_STEP_MM) return;
      sit({ drawing: { points: [...drawing.points, rounded(at)], along } });
    },
    takeBack() {
      const drawing = draft();
      if (drawing === null) return;
      const points = drawing.points.slice(0, -1);
      sit({ drawing: { points, along: points.length > 0 ? drawing.along : null } });
    },
    finish() {
      const drawing = draft();
      const seam = findSeam(jobOf(store.getState()), store.getState().sitting.seamId);
      if (drawing === null || seam === null) return;
      const { points, along } = drawing;
      if (points.length < 2 || along === null) return tell(notice('line-too-short'));
      sit({ drawing: null, linePoint: 0, facet: null });
      apply((job) => drawnLine(job, seam.id, { line: points, along }));
    },
  };
}

/** A unit direction to five decimals: along an axis where it is within half a degree of it. */
export function tidyDirection(direction: Vec3): Vec3 {
  const length = Math.hypot(...direction);
  const unit = direction.map((c) => c / length);
  const axis = unit.findIndex((c) => Math.abs(c) > Math.cos(Math.PI / 360));
  return unit.map((c, k) => (axis < 0 ? roundTo(c, 1e5) : k === axis ? Math.sign(c) : 0)) as unknown as Vec3;
}

/** How far apart two points are seen along a direction. */
function stepAcross(a: Vec3, b: Vec3, along: Vec3): number {
  const d = b.map((c, k) => c - a[k]!);
  const way = d.reduce((sum, c, k) => sum + c * along[k]!, 0);
  return Math.sqrt(Math.max(0, d.reduce((sum, c) => sum + c * c, 0) - way * way));
}
