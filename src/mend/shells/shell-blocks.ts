import type { Mesh } from '../../mesh/mesh.ts';
import { type BlockTree, blocksOf, children } from '../../mesh/near/blocks.ts';
import { NOTHING_ADDED } from '../../mesh/part/vertices.ts';
import { type Audit, NO_SHELL } from '../../mesh/topology/audit.ts';
import { NOWHERE, widen } from '../triangles/flat-boxes.ts';

/** A mesh's blocks, and which shells are in each. */
export interface ShellBlocks {
  tree: BlockTree;
  /** Per level and box the shell of its first triangle, and the box of all its triangles that are of others, if any. */
  mains: readonly Uint32Array[];
  others: readonly Float32Array[];
  shellCount: number;
  /** Each shell's box (min x, y, z, max x, y, z; mm), and where its first triangle stands. */
  boxes: Float32Array;
  firsts: Uint32Array;
}

/** True where a box holds triangles of one shell alone. */
export const isPure = ({ others }: ShellBlocks, level: number, box: number): boolean =>
  others[level][box * 6] === Infinity;

/** The blocks are those that cutting asks for later: they are built once. */
export function shellBlocks(mesh: Mesh, { shellCount, shellOf }: Audit): ShellBlocks {
  const tree = blocksOf({ positions: mesh.positions, added: NOTHING_ADDED }, mesh.triangles);
  const mains = tree.levels.map((boxes) => new Uint32Array(boxes.length / 6));
  const others = tree.levels.map((boxes) => nowhere(boxes.length / 6));
  const { boxes, firsts } = {
    boxes: nowhere(shellCount),
    firsts: new Uint32Array(shellCount).fill(NO_SHELL),
  };
  const blocks = { tree, mains, others, shellCount, boxes, firsts };
  for (let block = 0; block < mains[0].length; block++) takeBlock(mesh, shellOf, blocks, block);
  for (let level = 1; level < mains.length; level++) takeLevel(blocks, level);
  return blocks;
}

function nowhere(count: number): Float32Array {
  const boxes = new Float32Array(count * 6);
  for (let at = 0; at < boxes.length; at += 6) boxes.set(NOWHERE, at);
  return boxes;
}

/** Tells the shells in a block apart, and widens each one's box. */
function takeBlock(
  { positions: p, triangles: t }: Mesh,
  shellOf: Uint32Array,
  { tree: { starts, levels }, mains, others, boxes, firsts }: ShellBlocks,
  block: number,
): void {
  const [from, to] = [starts[block] / 3, starts[block + 1] / 3];
  const main = shellOf[from];
  mains[0][block] = main;
  let end = from + 1;
  while (end < to && shellOf[end] === main) end++;
  if (end === to && main !== NO_SHELL) {
    if (firsts[main] === NO_SHELL) firsts[main] = starts[block];
    widen(boxes, main * 6, levels[0], block * 6, block * 6 + 3);
    return;
  }
  for (let i = starts[block]; i < starts[block + 1]; i++) {
    const shell = shellOf[(i / 3) | 0];
    if (shell === NO_SHELL) continue;
    if (firsts[shell] === NO_SHELL) firsts[shell] = i;
    widen(boxes, shell * 6, p, t[i] * 3, t[i] * 3);
    if (shell !== main) widen(others[0], block * 6, p, t[i] * 3, t[i] * 3);
  }
}

/** Puts the boxes of a level together from those below. */
function takeLevel({ tree, mains, others }: ShellBlocks, level: number): void {
  const below = level - 1;
  for (let box = 0; box < mains[level].length; box++) {
    const held = children(box, mains[below].length);
    const main = mains[below][held[0]];
    mains[level][box] = main;
    for (const child of held) {
      const isOther = mains[below][child] !== main;
      const src = isOther ? tree.levels[below] : others[below];
      widen(others[level], box * 6, src, child * 6, child * 6 + 3);
    }
  }
}
