import type { Mesh } from '../../mesh/mesh.ts';
import { NO_SHELL } from '../../mesh/topology/audit.ts';
import { boxesApart, NOWHERE, widen } from '../triangles/flat-boxes.ts';
import { isPure, type ShellBlocks } from './shell-blocks.ts';

/** The shells with triangles in one block. */
export interface Shares {
  shells: readonly number[];
  /** The box of each one's triangles there, from the box `at` on. */
  boxes: Float32Array;
  at: number;
}

/** What each shell has in each block, worked out for those blocks that are asked about and kept: a block meets many others. */
export class ShellShares {
  readonly #mesh: Mesh;
  readonly #blocks: ShellBlocks;
  readonly #shellOf: Uint32Array;
  readonly #shares: Shares[] = [];
  readonly #boxes: Float32Array[] = [];

  constructor(mesh: Mesh, blocks: ShellBlocks, shellOf: Uint32Array) {
    this.#mesh = mesh;
    this.#blocks = blocks;
    this.#shellOf = shellOf;
  }

  /** The shells of a block and what box each has there. */
  of(block: number): Shares {
    const known = this.#shares[block];
    if (known) return known;
    const { tree, mains } = this.#blocks;
    const shares = isPure(this.#blocks, 0, block)
      ? { shells: [mains[0][block]].filter((shell) => shell !== NO_SHELL), boxes: tree.levels[0], at: block }
      : this.#partMixed(block);
    this.#shares[block] = shares;
    return shares;
  }

  #partMixed(block: number): Shares {
    const from = this.#blocks.tree.starts[block] / 3;
    const own = this.boxesIn(block);
    const all = this.#shellOf.subarray(from, from + own.length / 6);
    const shells = [...new Set(all)].filter((shell) => shell !== NO_SHELL);
    const boxes = new Float32Array(shells.length * 6);
    shells.forEach((shell, n) => {
      boxes.set(NOWHERE, n * 6);
      for (let i = 0; i < all.length; i++) if (all[i] === shell) widen(boxes, n * 6, own, i * 6, i * 6 + 3);
    });
    return { shells, boxes, at: 0 };
  }

  /** A block's triangles of one shell whose boxes reach into a box, counted from the block's first. */
  within(box: Float32Array, block: number, shell: number): number[] {
    const boxes = this.boxesIn(block);
    const from = this.#blocks.tree.starts[block] / 3;
    const near: number[] = [];
    for (let i = 0; i * 6 < boxes.length; i++) {
      if (this.#shellOf[from + i] === shell && !boxesApart(box, 0, boxes, i)) near.push(i);
    }
    return near;
  }

  /** The boxes of a block's triangles; made once, for a block meets many others. */
  boxesIn(block: number): Float32Array {
    const known = this.#boxes[block];
    if (known) return known;
    const { starts } = this.#blocks.tree;
    const { positions: p, triangles: t } = this.#mesh;
    const boxes = new Float32Array((starts[block + 1] - starts[block]) * 2);
    for (let i = starts[block], at = 0; at < boxes.length; i += 3, at += 6) {
      const [a, b, c] = [t[i] * 3, t[i + 1] * 3, t[i + 2] * 3];
      for (let k = 0; k < 3; k++) {
        boxes[at + k] = Math.min(p[a + k], p[b + k], p[c + k]);
        boxes[at + 3 + k] = Math.max(p[a + k], p[b + k], p[c + k]);
      }
    }
    this.#boxes[block] = boxes;
    return boxes;
  }
}
