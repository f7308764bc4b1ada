import { drawingWords } from '../words.ts';
import type { DrawnPeg } from './face-model.ts';
import type { Size } from './view.ts';
import './FaceNotes.css';

export interface FaceNotesProps {
  drawn: readonly DrawnPeg[];
  /** The peg being moved, whose place is told. */
  moving: DrawnPeg | null;
  minWallMm: number;
  size: Size;
}

const linePx = 16;

/** Notes at the drawing's foot: where a peg is being moved to, and which pegs leave too little wall. */
export function FaceNotes({ drawn, moving, minWallMm, size }: FaceNotesProps) {
  const thin = drawn.filter((d) => d.wall !== null && d.wall.mm < minWallMm);
  const x = size.width - 10;
  const y = (line: number) => size.height - 10 - line * linePx;
  return (
    <g className="face-notes">
      {thin.map(({ index, wall }, line) => (
        <text
          key={index}
          className="drawing-numeral drawing-word is-warning"
          textAnchor="end"
          x={x}
          y={y(line)}
        >
          {drawingWords.peg(index)}:{' '}
          {wall?.broken ? drawingWords.breaksSkin : drawingWords.wallTooThin(wall?.mm ?? 0)}
        </text>
      ))}
      {moving && (
        <text className="drawing-numeral" textAnchor="end" x={x} y={y(thin.length)} data-testid="face-place">
          {drawingWords.place(moving.shape.uv)}
        </text>
      )}
    </g>
  );
}
