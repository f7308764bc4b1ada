import { type Fault, fault } from './fault.ts';
import type { FoundJoint } from './joints.ts';
import type { PartFile } from './part.ts';
import type { Triangle } from './triangle.ts';

/** Pieces that no peg holds to the rest, beyond those that the figure had apart already. */
export function looseFaults(
  figure: PartFile,
  parts: readonly PartFile[],
  joints: readonly FoundJoint[],
): Fault[] {
  const outer = parts.flatMap((part) =>
    part.pieces.filter(({ volume }) => volume > 0).map((piece) => ({ part, piece })),
  );
  const groups = outer.map((_, i) => i);
  const find = (i: number): number => (groups[i] === i ? i : find(groups[i]));
  const holding = (part: PartFile, triangle: Triangle) =>
    outer.findIndex(
      (one) => one.part === part && one.piece.triangles.includes(part.triangles.indexOf(triangle)),
    );
  for (const { pegPart, pegTriangles, socketPart, socketTriangles } of joints) {
    if (!pegPart || !socketPart) continue;
    const [a, b] = [holding(pegPart, pegTriangles[0]), holding(socketPart, socketTriangles[0])];
    if (a >= 0 && b >= 0) groups[find(a)] = find(b);
  }
  const left = new Set(groups.map((_, i) => find(i))).size;
  const had = figure.pieces.filter(({ volume }) => volume > 0).length;
  return left > had
    ? [fault('loose', [], `${left} pieces hold together by nothing, the figure had ${had}`)]
    : [];
}
