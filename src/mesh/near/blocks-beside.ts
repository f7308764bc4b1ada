import { type BlockTree, blocksWhere, children } from './blocks.ts';

/** Blocks of one tree whose boxes come within `reach` (mm) of a block's box of one of the others, in order. */
export const blocksBeside = (tree: BlockTree, others: readonly BlockTree[], reach: number): number[] =>
  blocksWhere(tree, (boxes, at) =>
    others.some(
      ({ levels }) =>
        levels[0].length > 0 && isBeside(levels, levels.length - 1, 0, boxes.subarray(at, at + 6), reach),
    ),
  );

/** True where a box is within reach of a box of the lowest level under this one. */
function isBeside(
  levels: readonly Float32Array[],
  level: number,
  at: number,
  box: Float32Array,
  reach: number,
): boolean {
  const boxes = levels[level];
  for (let k = 0; k < 3; k++) {
    if (boxes[at * 6 + k] > box[k + 3] + reach || boxes[at * 6 + 3 + k] < box[k] - reach) return false;
  }
  return (
    level === 0 ||
    children(at, levels[level - 1].length / 6).some((child) => isBeside(levels, level - 1, child, box, reach))
  );
}
