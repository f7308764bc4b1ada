/** An attribute's text, null where it is not there. */
export type Attribute = (name: string) => string | null;

/** What draws an outline in SVG, as path data; null for what draws none, or has nothing to draw (SVG 1.1, §9). */
export function shapePath(element: string, text: Attribute): string | null {
  const number = (name: string): number => Number.parseFloat(text(name) ?? '0') || 0;
  switch (element) {
    case 'path':
      return text('d');
    case 'polygon':
    case 'polyline':
      return `M${text('points') ?? ''}Z`;
    case 'rect':
      return rectPath(number, text);
    case 'circle':
      return ellipsePath(number('cx'), number('cy'), number('r'), number('r'));
    case 'ellipse':
      return ellipsePath(number('cx'), number('cy'), number('rx'), number('ry'));
    default:
      return null;
  }
}

const ellipsePath = (x: number, y: number, rx: number, ry: number): string | null =>
  rx > 0 && ry > 0
    ? `M${x + rx} ${y}A${rx} ${ry} 0 0 1 ${x - rx} ${y}A${rx} ${ry} 0 0 1 ${x + rx} ${y}Z`
    : null;

function rectPath(number: (name: string) => number, text: Attribute): string | null {
  const [x, y, w, h] = [number('x'), number('y'), number('width'), number('height')];
  if (!(w > 0 && h > 0)) return null;
  // A radius that is left out is the other one; none is more than half a side (§9.2).
  const rx = Math.min(number(text('rx') === null ? 'ry' : 'rx'), w / 2);
  const ry = Math.min(number(text('ry') === null ? 'rx' : 'ry'), h / 2);
  if (!(rx > 0 && ry > 0)) return `M${x} ${y}h${w}v${h}h${-w}Z`;
  const bend = (dx: number, dy: number) => `a${rx} ${ry} 0 0 1 ${dx} ${dy}`;
  const [across, down] = [w - 2 * rx, h - 2 * ry];
  return `M${x + rx} ${y}h${across}${bend(rx, ry)}v${down}${bend(-rx, ry)}h${-across}${bend(-rx, -ry)}v${-down}${bend(rx, -ry)}Z`;
}
