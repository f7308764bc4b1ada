import { fineBlocks } from '../../mesh/near/blocks.ts';
import { blocksBeside } from '../../mesh/near/blocks-beside.ts';
import type { Part } from '../../mesh/part/part.ts';
import { vertexCount } from '../../mesh/part/vertices.ts';

/** Triangles of a block: the fewer, the less lies near by its box alone. */
const FINE = 8;

/** 1 for each triangle, patch by patch, in a block that comes near the other's skin. Lids are not skin. */
export function nearTriangles(part: Part, other: Part): Uint8Array[] {
  const skins = ({ patches }: Part) => patches.filter(({ of }) => of.kind !== 'lid');
  const others = skins(other).map(({ triangles }) => fineBlocks(other, triangles, FINE));
  return part.patches.map(({ of, triangles }) => {
    const isNear = new Uint8Array(triangles.length / 3);
    if (of.kind === 'lid') return isNear;
    const tree = fineBlocks(part, triangles, FINE);
    for (const block of blocksBeside(tree, others, 0))
      isNear.fill(1, tree.starts[block] / 3, tree.starts[block + 1] / 3);
    return isNear;
  });
}

/** How often what is near is made wider by all triangles about it: its ragged border becomes a plain one. */
const WIDER = 2;

/** 1 for each vertex of a near triangle; what is near is widened first. */
export function nearVertices(part: Part, isNear: readonly Uint8Array[]): Uint8Array {
  const hasNear = new Uint8Array(vertexCount(part));
  for (let turn = 0; turn <= WIDER; turn++) {
    part.patches.forEach(({ triangles: t }, i) => {
      const near = isNear[i];
      for (let k = 0, at = 0; at < t.length; k++, at += 3)
        if (near[k] === 1) hasNear[t[at]] = hasNear[t[at + 1]] = hasNear[t[at + 2]] = 1;
    });
    if (turn === WIDER) break;
    part.patches.forEach(({ of, triangles: t }, i) => {
      const near = isNear[i];
      if (of.kind === 'lid') return;
      for (let k = 0, at = 0; at < t.length; k++, at += 3)
        near[k] |= hasNear[t[at]] | hasNear[t[at + 1]] | hasNear[t[at + 2]];
    });
  }
  return hasNear;
}
