import { type Audit, NO_SHELL } from '../mesh/audit.ts';
import { type BlockTree, blocksOf, children } from '../mesh/blocks.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { NOTHING_ADDED } from '../mesh/vertices.ts';
import { NOWHERE, widen } from './flat-boxes.ts';

/** Label of boxes that hold triangles of several shells. */
export const MIXED = 0xfffffffe;

/** A mesh's blocks, and which shell is in each. */
export interface ShellBlocks {
  tree: BlockTree;
  /** Per level and box: the shell of all its triangles, or `MIXED`. */
  labels: readonly Uint32Array[];
  shellCount: number;
  /** Each shell's box (min x, y, z, max x, y, z; mm), and where its first triangle stands. */
  boxes: Float32Array;
  firsts: Uint32Array;
}

/** The blocks are those that cutting asks for later: they are built once. */
export function shellBlocks(mesh: Mesh, { shellCount, shellOf }: Audit): ShellBlocks {
  const tree = blocksOf({ positions: mesh.positions, added: NOTHING_ADDED }, mesh.triangles);
  const labels = labelsOf(tree, shellOf);
  return { tree, labels, shellCount, ...shellBoxes(mesh, tree, labels, shellCount, shellOf) };
}

/** Per level and box the shell of all its triangles, or `MIXED`. */
function labelsOf({ starts, levels }: BlockTree, shellOf: Uint32Array): Uint32Array[] {
  const labels = levels.map((boxes) => new Uint32Array(boxes.length / 6));
  const [blocks] = labels;
  for (let block = 0; block < blocks.length; block++) {
    const from = starts[block] / 3;
    const to = starts[block + 1] / 3;
    blocks[block] = shellOf[from];
    for (let i = from + 1; i < to; i++) if (shellOf[i] !== blocks[block]) blocks[block] = MIXED;
    if (blocks[block] === NO_SHELL) blocks[block] = MIXED;
  }
  for (let level = 1; level < labels.length; level++) {
    const below = labels[level - 1];
    for (let box = 0; box < labels[level].length; box++) {
      const [first, ...others] = children(box, below.length);
      labels[level][box] = others.every((other) => below[other] === below[first]) ? below[first] : MIXED;
    }
  }
  return labels;
}

function shellBoxes(
  { positions: p, triangles: t }: Mesh,
  { starts, levels }: BlockTree,
  labels: readonly Uint32Array[],
  shellCount: number,
  shellOf: Uint32Array,
): { boxes: Float32Array; firsts: Uint32Array } {
  const boxes = new Float32Array(shellCount * 6);
  const firsts = new Uint32Array(shellCount).fill(NO_SHELL);
  for (let at = 0; at < boxes.length; at += 6) boxes.set(NOWHERE, at);
  for (let block = 0; block + 1 < starts.length; block++) {
    const label = labels[0][block];
    if (label !== MIXED) {
      widen(boxes, label * 6, levels[0], block * 6, block * 6 + 3);
      if (firsts[label] === NO_SHELL) firsts[label] = starts[block];
      continue;
    }
    for (let i = starts[block]; i < starts[block + 1]; i++) {
      const shell = shellOf[(i / 3) | 0];
      if (shell === NO_SHELL) continue;
      if (firsts[shell] === NO_SHELL) firsts[shell] = i;
      widen(boxes, shell * 6, p, t[i] * 3, t[i] * 3);
    }
  }
  return { boxes, firsts };
}
