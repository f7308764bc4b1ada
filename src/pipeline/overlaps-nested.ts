import type { Part } from '../mesh/part/part.ts';
import { bodiesIn } from './bodies.ts';
import type { CutSeam } from './cut-step.ts';
import type { Sculpt } from './sculpt.ts';

/**
 * True where shells of a sculpt overlap, all of them were found, and each two lie in bodies of which a seam has trimmed one
 * by the other: nothing is there twice any more. Only bodies that were whole when they were joined count: a seam between
 * sides of theirs may leave what other sides share.
 */
export function areOverlapsNested(sculpt: Sculpt, seams: readonly CutSeam[]): boolean {
  const { pairs, complete } = sculpt.overlaps;
  if (pairs.length === 0 || !complete || !seams.some(({ cut }) => cut.nest)) return false;
  const bodies = bodiesIn(sculpt);
  const nested = nestedBodies(
    bodies.map(({ part }) => part),
    seams,
  );
  const bodyOf = (shell: number) => bodies.findIndex(({ shells }) => shells.includes(shell));
  return pairs.every(([a, b]) => nested.has(pairKey(bodyOf(a), bodyOf(b))));
}

/** Bodies of which one was trimmed by the other, two by two. */
function nestedBodies(bodies: readonly Part[], seams: readonly CutSeam[]): Set<string> {
  const bodyOf = new Map(bodies.map((part, body) => [part, body]));
  const nested = new Set<string>();
  for (const { of, cut } of seams) {
    if (of.length < 2) continue;
    const [front, back] = of.map((part) => bodyOf.get(part));
    // What is left of a body after one seam may be joined by the next.
    if (front !== undefined) bodyOf.set(cut.front, front);
    if (back !== undefined) bodyOf.set(cut.back, back);
    if (cut.nest && front !== undefined && back !== undefined) nested.add(pairKey(front, back));
  }
  return nested;
}

const pairKey = (a: number, b: number): string => `${Math.min(a, b)} ${Math.max(a, b)}`;
