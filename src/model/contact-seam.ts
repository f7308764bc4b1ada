import { partRef, type Side } from './part-ref.ts';
import { areOnePart, partIdOf, type SeamFlat, type SeamSpec } from './seam-schema.ts';

/** Seams where two bodies touch or overlap: whom they join, and how those nest. */

/** How far in from the outer edge a gap closes where a job does not say, mm. */
const USUAL_RIM_MM = 1;

/** A seam where two parts touch, each by its id. */
export const contactSeam = (front: string, back: string): SeamSpec => ({
  kind: 'contact',
  bodies: [calledBy(front), calledBy(back)],
});

/** A part as a seam that joins it is to name it: a body by what it is called alone, where that is not what another part's id looks like. */
function calledBy(id: string): string {
  const ref = partRef(id);
  return ref?.of === 'body' && partRef(ref.body) === null ? ref.body : id;
}

/** The two parts that a seam joins, front first, as a job refers to parts; null for one that divides a part. */
export function joinedBy(by: SeamSpec): [string, string] | null {
  if (by.kind !== 'contact') return null;
  const [front, back] = by.bodies.map(partIdOf);
  return [front, back];
}

/** The seam joining the same two parts where one of them goes by another id; any other as it is. */
export function renamedJoin(by: SeamSpec, idOf: (id: string) => string): SeamSpec {
  if (by.kind !== 'contact') return by;
  const named = (called: string) => {
    const id = partIdOf(called);
    return idOf(id) === id ? called : calledBy(idOf(id));
  };
  const [front, back] = by.bodies.map(named);
  if (front === by.bodies[0] && back === by.bodies[1]) return by;
  return { ...by, bodies: [front, back], ...(by.gives !== undefined && { gives: named(by.gives) }) };
}

/** How two bodies that overlap are to nest. */
export interface Nesting {
  /** Which one gives way; null where that is left to the engine. */
  gives: Side | null;
  gapMm: number;
  rimMm: number;
  flat: SeamFlat | null;
}

/** How a seam's bodies are to nest where they overlap; null for one that divides a part. */
export function nestingOf(by: SeamSpec): Nesting | null {
  if (by.kind !== 'contact') return null;
  const { bodies, gives, nestGapMm = 0, rimMm = USUAL_RIM_MM, flat = null } = by;
  const side = gives === undefined ? null : areOnePart(bodies[0], gives) ? 'front' : 'back';
  return { gives: side, gapMm: nestGapMm, rimMm, flat };
}

/** The seam with its bodies nesting otherwise; what is as usual is left out of the job. */
export function withNesting(by: SeamSpec, change: Partial<Nesting>): SeamSpec {
  const old = nestingOf(by);
  if (by.kind !== 'contact' || old === null) return by;
  const { gives, gapMm, rimMm, flat } = { ...old, ...change };
  return {
    kind: by.kind,
    bodies: by.bodies,
    ...(gives && { gives: by.bodies[gives === 'front' ? 0 : 1] }),
    ...(gapMm > 0 && { nestGapMm: gapMm }),
    ...(rimMm !== USUAL_RIM_MM && { rimMm }),
    ...(flat && { flat }),
  };
}
