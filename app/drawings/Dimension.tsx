import { type Arrow, arrowhead, type DimensionLayout, type Line } from './dimension-layout.ts';
import type { Vec2 } from './engine.ts';
import { pointsPath } from './svg-path.ts';
import './Dimension.css';

export function Arrowheads({ arrows }: { arrows: readonly Arrow[] }) {
  return (
    <path className="drawing-arrow" d={arrows.map((arrow) => pointsPath(arrowhead(arrow), true)).join('')} />
  );
}

export interface LabelProps {
  at: Vec2;
  text: string;
  angleDeg?: number;
  anchor?: 'start' | 'middle' | 'end';
  className?: string;
  title?: string | undefined;
  testId?: string | undefined;
}

/** Text of constant size, on a halo of paper that interrupts what it stands on. */
export function Label({ at, text, angleDeg = 0, anchor = 'middle', className, title, testId }: LabelProps) {
  const turn = angleDeg === 0 ? '' : ` rotate(${angleDeg.toFixed(2)})`;
  return (
    <g className={className}>
      {title && <title>{title}</title>}
      <text
        className="drawing-numeral"
        textAnchor={anchor}
        transform={`translate(${at[0].toFixed(2)} ${at[1].toFixed(2)})${turn}`}
        data-testid={testId}
      >
        {text}
      </text>
    </g>
  );
}

export interface DimensionProps {
  layout: DimensionLayout;
  text: string;
  className?: string;
  title?: string;
  testId?: string;
}

const linesPath = (lines: readonly Line[]): string => lines.map((line) => pointsPath(line)).join('');

/** A dimension as laid out: extension lines, line, arrowheads, text. */
export function Dimension({ layout, text, className = '', title, testId }: DimensionProps) {
  return (
    <g className={`drawing-dimension ${className}`}>
      <path className="drawing-thin" d={linesPath([...layout.extensions, layout.line])} />
      <Arrowheads arrows={layout.arrows} />
      <Label at={layout.text.at} angleDeg={layout.text.angleDeg} text={text} title={title} testId={testId} />
    </g>
  );
}
