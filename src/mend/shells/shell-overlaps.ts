import type { Vec3 } from '../../math/vec3.ts';
import { type Bounds, boundsOf } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { children } from '../../mesh/near/blocks.ts';
import type { Audit } from '../../mesh/topology/audit.ts';
import { shareEdge, type Three, trianglesCross, trianglesPierce } from '../report/crossing.ts';
import { boxesApart, commonBox } from '../triangles/flat-boxes.ts';
import { MEND_TUNING } from '../tuning.ts';
import { isDoubledBeneath, leastHeight } from '../winding/beneath.ts';
import { isPure, type ShellBlocks, shellBlocks } from './shell-blocks.ts';
import { ShellShares } from './shell-shares.ts';

/** Whether shells of a closed figure have material in common. */
export interface ShellOverlaps {
  /** Pairs of shells whose surfaces pass through each other, and shells that lie in the material of another. */
  count: number;
  /** A place of the first, mm in the mesh's coordinates. */
  at: Vec3 | null;
  /** Which shells, by their numbers; one that lies within others is a pair with itself. */
  pairs: (readonly [number, number])[];
  /** Where material may be counted twice: what the boxes of such shells have in common; all of the figure where looking stopped early. */
  boxes: Bounds[];
  /** False where so much lies close together that looking stopped early: more may overlap. */
  complete: boolean;
}

/**
 * Looks for shells that overlap, quickly and with an end: triangles of different shells are held against each other
 * only where their blocks meet. Surfaces that pass through each other overlap. Where they only touch, and for a shell
 * within the box of another, the winding number just beneath a triangle tells: more than 1 is material counted twice,
 * a hollow has 1.
 */
export function findShellOverlaps(
  mesh: Mesh,
  audit: Audit,
  blocks = shellBlocks(mesh, audit),
): ShellOverlaps {
  const search = new OverlapSearch(mesh, audit, blocks);
  search.holdSurfaces();
  search.probeTouching();
  search.probeNested();
  const { count, at, complete } = search;
  return {
    count,
    at,
    pairs: search.pairs(),
    boxes: complete ? search.boxes() : [boundsOf(mesh)],
    complete,
  };
}

class OverlapSearch {
  count = 0;
  at: Vec3 | null = null;
  complete = true;
  readonly #mesh: Mesh;
  readonly #shellCount: number;
  readonly #shellOf: Uint32Array;
  readonly #blocks: ShellBlocks;
  readonly #shares: ShellShares;
  /** Pairs known to overlap, by number. */
  readonly #pairs = new Set<number>();
  /** Shells known to overlap another. */
  readonly #known = new Set<number>();
  /** Triangles that touch one of the other shell, by pair. */
  readonly #touching = new Map<number, number[]>();
  readonly #common = new Float32Array(6);
  #looks = 0;
  #probes = 0;

  constructor(mesh: Mesh, { shellCount, shellOf }: Audit, blocks: ShellBlocks) {
    this.#mesh = mesh;
    this.#shellCount = shellCount;
    this.#shellOf = shellOf;
    this.#blocks = blocks;
    this.#shares = new ShellShares(mesh, blocks, shellOf);
  }

  /** Goes down the boxes two by two, leaving out pairs that lie apart or hold one shell alone. */
  holdSurfaces(): void {
    const { levels } = this.#blocks.tree;
    const stack = [levels.length - 1, 0, 0];
    while (stack.length > 0) {
      const b = stack.pop() as number;
      const a = stack.pop() as number;
      const level = stack.pop() as number;
      if (this.#areDone(level, a, b)) continue;
      if (++this.#looks > MEND_TUNING.overlapLooks) {
        this.complete = false;
        return;
      }
      if (level === 0) this.#holdBlocks(a, b);
      else this.#pushBelow(stack, level, a, b);
    }
  }

  #pushBelow(stack: number[], level: number, a: number, b: number): void {
    const boxes = this.#blocks.tree.levels[level];
    const below = this.#blocks.tree.levels[level - 1];
    const box = commonBox(boxes, a, boxes, b, this.#common);
    const near = (of: number) =>
      children(of, below.length / 6).filter((child) => !boxesApart(box, 0, below, child));
    const own = near(a);
    const others = a === b ? own : near(b);
    for (const i of own) for (const j of others) if (a !== b || i <= j) stack.push(level - 1, i, j);
  }

  /** True where no triangles of two boxes are of different shells and near each other, or only of two that are known to overlap. */
  #areDone(level: number, a: number, b: number): boolean {
    const { tree, mains, others } = this.#blocks;
    const [boxes, minor] = [tree.levels[level], others[level]];
    const [s, t] = [mains[level][a], mains[level][b]];
    if (s === t) return boxesApart(minor, a, boxes, b) && boxesApart(boxes, a, minor, b);
    if (boxesApart(boxes, a, boxes, b)) return true;
    const arePure = isPure(this.#blocks, level, a) && isPure(this.#blocks, level, b);
    return arePure && this.#pairs.has(this.#pairOf(s, t));
  }

  /** Holds what two blocks have of different shells against each other. */
  #holdBlocks(a: number, b: number): void {
    const [own, others] = [this.#shares.of(a), this.#shares.of(b)];
    for (let i = 0; i < own.shells.length; i++) {
      for (let j = a === b ? i + 1 : 0; j < others.shells.length; j++) {
        if (
          own.shells[i] === others.shells[j] ||
          boxesApart(own.boxes, own.at + i, others.boxes, others.at + j)
        )
          continue;
        if (this.#pairs.has(this.#pairOf(own.shells[i], others.shells[j]))) continue;
        const box = commonBox(own.boxes, own.at + i, others.boxes, others.at + j, this.#common);
        this.#holdShares(box, [a, own.shells[i]], [b, others.shells[j]]);
      }
    }
  }

  /** Holds a shell's triangles in one block against another shell's in another, as far as they reach into a box. */
  #holdShares(box: Float32Array, [a, shell]: readonly number[], [b, other]: readonly number[]): void {
    const { starts } = this.#blocks.tree;
    const [own, others] = [this.#shares.within(box, a, shell), this.#shares.within(box, b, other)];
    const [ownBoxes, otherBoxes] = [this.#shares.boxesIn(a), this.#shares.boxesIn(b)];
    this.#looks += own.length * others.length;
    for (const i of own) {
      for (const j of others) {
        if (!boxesApart(ownBoxes, i, otherBoxes, j)) this.#hold(starts[a] + i * 3, starts[b] + j * 3);
      }
    }
  }

  /** Holds two triangles of different shells against each other, told by where they stand in the mesh's corners. */
  #hold(i: number, j: number): void {
    const { positions: p, triangles: t } = this.#mesh;
    const [s, o] = [this.#shellOf[i / 3], this.#shellOf[j / 3]];
    const pair = this.#pairOf(s, o);
    if (this.#pairs.has(pair)) return;
    const [own, other] = [offsets(t, i), offsets(t, j)];
    if (trianglesPierce(p, own, other)) this.#overlap(s, o, i);
    else if (shareEdge(p, own, other) || trianglesCross(p, own, other)) this.#touch(pair, i, j);
  }

  #touch(pair: number, i: number, j: number): void {
    const list = this.#touching.get(pair) ?? [];
    if (list.length === 0) this.#touching.set(pair, list);
    if (list.length < MEND_TUNING.probesOfPair) list.push(i, j);
  }

  /** Surfaces that only touch: from outside, or a body against another's skin from within? */
  probeTouching(): void {
    for (const [pair, corners] of this.#touching) {
      if (this.#pairs.has(pair)) continue;
      const within = corners.find((corner) => this.#isDoubled(corner));
      if (within === undefined) continue;
      this.#overlap(Math.floor(pair / this.#shellCount), pair % this.#shellCount, within);
    }
  }

  /** Shells within another's box that touch nothing lie wholly in its material, or not at all. */
  probeNested(): void {
    const { boxes, firsts } = this.#blocks;
    this.#looks = 0;
    const byLow = [...firsts.keys()].sort((a, b) => boxes[a * 6] - boxes[b * 6]);
    for (let n = 0; n < byLow.length; n++) {
      const shell = byLow[n];
      this.#looks += n;
      if (this.#looks > MEND_TUNING.overlapLooks) {
        this.complete = false;
        return;
      }
      if (this.#known.has(shell) || !isWithinOther(boxes, byLow, n)) continue;
      const corner = this.#sampleOf(shell, firsts[shell]);
      if (this.#isDoubled(corner)) this.#overlap(shell, shell, corner);
    }
  }

  pairs(): (readonly [number, number])[] {
    return [...this.#pairs].map((pair) => [Math.floor(pair / this.#shellCount), pair % this.#shellCount]);
  }

  /** What the boxes of each pair that overlaps have in common. */
  boxes(): Bounds[] {
    if (this.#pairs.size === 0) return [];
    const { boxes } = this.#blocks;
    return this.pairs().map(([a, b]) => {
      const box = commonBox(boxes, a, boxes, b);
      return { min: [box[0], box[1], box[2]], max: [box[3], box[4], box[5]] };
    });
  }

  /** Of a shell's first few triangles the one that is least of a needle. */
  #sampleOf(shell: number, first: number): number {
    let best = first;
    let most = 0;
    const end = Math.min(this.#mesh.triangles.length, first + MEND_TUNING.probesOfPair * 3);
    for (let i = first; i < end; i += 3) {
      if (this.#shellOf[i / 3] !== shell) continue;
      const height = leastHeight(this.#mesh, i);
      if (height > most) [best, most] = [i, height];
    }
    return best;
  }

  /** Whether a triangle lies on material that is there already; unknown once as many were asked as may be. */
  #isDoubled(corner: number): boolean {
    if (this.#probes++ < MEND_TUNING.overlapProbes) return isDoubledBeneath(this.#mesh, corner);
    this.complete = false;
    return false;
  }

  /** Notes a pair; one that lies within others is a pair with itself. */
  #overlap(a: number, b: number, corner: number): void {
    this.#pairs.add(this.#pairOf(a, b));
    this.#known.add(a).add(b);
    this.count++;
    this.at ??= this.#middleOf(corner);
  }

  #middleOf(corner: number): Vec3 {
    const { positions: p, triangles: t } = this.#mesh;
    const of = (k: number) =>
      (p[t[corner] * 3 + k] + p[t[corner + 1] * 3 + k] + p[t[corner + 2] * 3 + k]) / 3;
    return [of(0), of(1), of(2)];
  }

  #pairOf(a: number, b: number): number {
    return Math.min(a, b) * this.#shellCount + Math.max(a, b);
  }
}

/** True where the box of the `n`-th shell by its low side lies within that of another. */
function isWithinOther(boxes: Float32Array, byLow: readonly number[], n: number): boolean {
  const inner = byLow[n] * 6;
  const within = (outer: number) => {
    for (let k = 0; k < 3; k++) {
      if (boxes[outer + k] > boxes[inner + k] || boxes[outer + 3 + k] < boxes[inner + 3 + k]) return false;
    }
    return true;
  };
  // Those that begin at the same place may stand on either side of it.
  for (let m = 0; m < byLow.length; m++) {
    if (boxes[byLow[m] * 6] > boxes[inner]) return false;
    if (m !== n && within(byLow[m] * 6)) return true;
  }
  return false;
}

const offsets = (t: Uint32Array, corner: number): Three => [
  t[corner] * 3,
  t[corner + 1] * 3,
  t[corner + 2] * 3,
];
