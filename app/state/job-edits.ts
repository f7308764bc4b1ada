import {
  type AskedJoint,
  COMMONEST_KIND,
  freeJointId,
  type Job,
  jointKind,
  liesAlongFace,
  type Outline,
  ontoPlane,
  type Process,
  type Seam,
  type SeamPlane,
  type SeamResult,
  type SeamSpec,
  type Side,
  type SizeName,
  type SweptLine,
  type Vec3,
  withLine,
  withNesting,
  withOutline,
  withPlane,
  withThrough,
} from '../../src/index.ts';

/** Changes of a job, each a pure function from one job to the next. Lengths mm, file coordinates. */

/** New values for some of a joint's fields; `undefined` gives a field back to its default. */
export type JointPatch = { readonly [name: SizeName]: number | undefined } & { at?: AskedJoint['at'] };

const withSeam = (job: Job, seamId: string, change: (seam: Seam) => Seam): Job => ({
  ...job,
  seams: job.seams.map((seam) => (seam.id === seamId ? change(seam) : seam)),
});

export const findSeam = (job: Job, seamId: string | null): Seam | null =>
  job.seams.find((seam) => seam.id === seamId) ?? null;

export const findJoint = (seam: Seam, jointId: string | null): AskedJoint | null =>
  seam.joints.find(({ id }) => id === jointId) ?? null;

export const setSeam = (job: Job, seamId: string, patch: Partial<Pick<Seam, 'pegOn' | 'names'>>): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, ...patch }));

/** Names a part that a seam makes. */
export const setPartName = (job: Job, { seamId, side }: { seamId: string; side: Side }, name: string): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, names: { ...seam.names, [side]: name } }));

/** Holds a seam by another plane; its placed joints follow along the new normal so that they stay on the face. */
export const setPlane = (job: Job, seamId: string, plane: SeamPlane): Job =>
  withSeam(job, seamId, (seam) => ({
    ...seam,
    by: withPlane(seam.by, plane),
    joints: seam.joints.map((joint) =>
      joint.at === 'auto' ? joint : { ...joint, at: ontoPlane(plane, joint.at) },
    ),
  }));

/** Gives a seam another way to divide; its joints stay where they are. */
export const setBy = (job: Job, seamId: string, by: SeamSpec): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, by }));

/** Sweeps a seam from another line; its joints stay where they are. */
export const setLine = (job: Job, seamId: string, line: Partial<SweptLine>): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, by: withLine(seam.by, line) }));

/** Sweeps a seam from a line that was drawn: its joints find places and sizes anew, for what they stood on is gone; gaps stay. */
export const drawnLine = (job: Job, seamId: string, line: Pick<SweptLine, 'line' | 'along'>): Job =>
  withSeam(job, seamId, (seam) => ({
    ...seam,
    by: withLine(withThrough(seam.by, null), { ...line, flats: [] }),
    joints: seam.joints.map(({ id, kind, sideGapMm, endGapMm }) =>
      patched({ id, kind, at: 'auto' }, { sideGapMm, endGapMm }),
    ),
  }));

/** Says how the bodies that a seam joins are to nest where they overlap. */
export const setNesting = (job: Job, seamId: string, change: Parameters<typeof withNesting>[1]): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, by: withNesting(seam.by, change) }));

/** Sets a flat across what the bodies of a seam share, with a joint on it if the seam has none. */
export function setFlat(job: Job, seamId: string, { normal, offsetMm }: SeamPlane, near: Vec3): Job {
  const plane = { normal, offsetMm };
  const flat = setNesting(job, seamId, { flat: { at: ontoPlane(plane, near), normal } });
  return findSeam(flat, seamId)?.joints.length === 0 ? addJoint(flat, seamId, 'auto') : flat;
}

const withJoints = (job: Job, seamId: string, change: (joints: AskedJoint[]) => AskedJoint[]): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, joints: change(seam.joints) }));

/** The id that the next joint of a seam gets. */
export const newJointId = ({ joints }: Pick<Seam, 'joints'>): string =>
  freeJointId(joints.map(({ id }) => id));

/** Adds a joint of the commonest kind. */
export const addJoint = (job: Job, seamId: string, at: AskedJoint['at']): Job =>
  withJoints(job, seamId, (joints) => [...joints, { id: newJointId({ joints }), kind: COMMONEST_KIND, at }]);

/**
 * The job with a joint of its own for every one that was placed: a seam that leaves its joints to the engine may get
 * more than it asks for, one on each face. The job itself where there is none.
 */
export function withPlacedJoints(job: Job, results: readonly SeamResult[]): Job {
  const seams = job.seams.map((seam) => {
    const placed = results.find(({ id }) => id === seam.id)?.joints ?? [];
    const more = placed.filter(({ index }) => index >= seam.joints.length);
    const last = seam.joints.findLast(({ at }) => at === 'auto');
    if (more.length === 0 || !last) return seam;
    return { ...seam, joints: [...seam.joints, ...more.map(({ settled }) => ({ ...last, id: settled.id }))] };
  });
  return seams.some((seam, i) => seam !== job.seams[i]) ? { ...job, seams } : job;
}

export const removeJoint = (job: Job, seamId: string, jointId: string): Job =>
  withJoints(job, seamId, (joints) => joints.filter(({ id }) => id !== jointId));

export const setJoint = (job: Job, seamId: string, jointId: string, patch: JointPatch): Job =>
  withJoints(job, seamId, (joints) =>
    joints.map((joint) => (joint.id === jointId ? patched(joint, patch) : joint)),
  );

function patched(joint: AskedJoint, patch: JointPatch): AskedJoint {
  const kept = Object.entries({ ...joint, ...patch }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(kept) as unknown as AskedJoint;
}

/** Gives a joint another outline of its own, as large as it is drawn. */
export const setOutline = (job: Job, seamId: string, jointId: string, outline: Outline): Job =>
  withJoints(job, seamId, (joints) =>
    joints.map((joint) =>
      joint.id === jointId ? withOutline(patched(joint, { widthMm: undefined }), outline) : joint,
    ),
  );

/**
 * Makes a joint one of another kind: sizes that kind has too stay, its width goes over to the other's. One that is to have
 * an outline of its own has the kind's first, as large as that is.
 */
export const setKind = (job: Job, seamId: string, jointId: string, kind: string): Job =>
  withJoints(job, seamId, (joints) =>
    joints.map((joint) => (joint.id === jointId ? ofKind(joint, kind) : joint)),
  );

function ofKind(joint: AskedJoint, kind: string): AskedJoint {
  const { outline } = jointKind(kind);
  if (outline && joint.kind !== kind) {
    const { widthMm: _, ...others } = ofFields(joint, kind);
    return withOutline(others as AskedJoint, outline);
  }
  return ofFields(joint, kind);
}

function ofFields(joint: AskedJoint, kind: string): AskedJoint {
  const widthIn = (of: string) => jointKind(of).fields.find(liesAlongFace)?.name;
  const [from, to] = [widthIn(joint.kind), widthIn(kind)];
  const width = from && to && joint[from] !== undefined ? { [to]: joint[from] } : {};
  const sizes = jointKind(kind).fields.flatMap(({ name }) =>
    joint[name] === undefined ? [] : [[name, joint[name]] as const],
  );
  return { id: joint.id, kind, at: joint.at, ...width, ...Object.fromEntries(sizes) };
}

export const setProcess = (job: Job, patch: Partial<Process>): Job => ({
  ...job,
  process: { ...job.process, ...patch },
});

/** Removes a seam. What divides one of its parts, or joins it to another, stays, and waits for the part. */
export const removeSeam = (job: Job, seamId: string): Job => ({
  ...job,
  seams: job.seams.filter(({ id }) => id !== seamId),
});

/** Has a seam divide another part, after all other seams: whatever part there is is there then. */
export function setOf(job: Job, seamId: string, of: string): Job {
  const seam = findSeam(job, seamId);
  return seam ? addSeam(removeSeam(job, seamId), { ...seam, of }) : job;
}

export const addSeam = (job: Job, seam: Seam): Job => ({ ...job, seams: [...job.seams, seam] });
