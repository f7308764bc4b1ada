import type { Vec2 } from './engine.ts';
import type { Rect, View } from './view.ts';

/** Points nearer than this to the last one drawn are passed over, px: a scan's outline has thousands no eye can part. */
const LEAST_STEP_PX = 0.5;

/**
 * Path data from flat x, y pairs in the world, drawn in px to a tenth: text and lines keep their size whatever the zoom.
 * What shows through the window `within` (px) is as it is; beyond, points may be passed over.
 */
export function linePath(view: View, line: Float64Array, closed: boolean, within?: Rect): string {
  let lastX = Number.POSITIVE_INFINITY;
  let lastY = Number.POSITIVE_INFINITY;
  let lastBeyond = 0;
  const rise = view.way * view.scale;
  written = 0;
  for (let i = 0; i < line.length; i += 2) {
    const x = view.x + view.scale * line[i];
    const y = view.y - rise * line[i + 1];
    const isEnd = i === line.length - 2;
    if (!isEnd && Math.abs(x - lastX) + Math.abs(y - lastY) < LEAST_STEP_PX) continue;
    const beyond = within ? sidesBeyond(within, x, y) : 0;
    if (within && !isEnd && beyond & lastBeyond) {
      // Past one side of the window together with the point before and the point after: neither edge can show.
      const nextX = view.x + view.scale * line[i + 2];
      const nextY = view.y - rise * line[i + 3];
      if (beyond & lastBeyond & sidesBeyond(within, nextX, nextY)) continue;
    }
    writePoint(i === 0 ? MOVE : LINE, x, y);
    lastX = x;
    lastY = y;
    lastBeyond = beyond;
  }
  const d = latin.decode(bytes.subarray(0, written));
  return closed && d ? `${d}Z` : d;
}

/*
 * A path under a hand is written many times a second, of thousands of points: number by number as strings they would
 * be most of what the page throws away.
 */
const latin = new TextDecoder();
let bytes = new Uint8Array(1 << 14);
let written = 0;
const [MOVE, LINE, SPACE, POINT, MINUS, ZERO] = [...'ML .-0'].map((sign) => sign.charCodeAt(0));
/** More than a command with two numbers takes. */
const POINT_BYTES = 64;

function writePoint(command: number, x: number, y: number): void {
  if (written + POINT_BYTES > bytes.length) {
    const wider = new Uint8Array(bytes.length * 2);
    wider.set(bytes);
    bytes = wider;
  }
  bytes[written++] = command;
  writeTenths(x);
  bytes[written++] = SPACE;
  writeTenths(y);
}

function writeTenths(value: number): void {
  let tenths = Math.round(Math.abs(value) * 10);
  if (value < 0 && tenths > 0) bytes[written++] = MINUS;
  const tenth = tenths % 10;
  tenths = (tenths - tenth) / 10;
  let place = 1;
  while (place * 10 <= tenths) place *= 10;
  for (; place >= 1; place /= 10) bytes[written++] = ZERO + (Math.floor(tenths / place) % 10);
  bytes[written++] = POINT;
  bytes[written++] = ZERO + tenth;
}

/** The sides of a window that a point lies beyond, a bit for each. */
const sidesBeyond = (window: Rect, x: number, y: number): number =>
  (x < window.x ? 1 : 0) |
  (x > window.x + window.width ? 2 : 0) |
  (y < window.y ? 4 : 0) |
  (y > window.y + window.height ? 8 : 0);

/** Several closed outlines as one path: holes run the other way, so that it is filled where it winds round. */
export const outlinesPath = (view: View, outlines: readonly Float64Array[], within?: Rect): string =>
  outlines.map((o) => linePath(view, o, true, within)).join('');

export const pointsPath = (points: readonly Vec2[], closed = false): string =>
  points.map((p, i) => `${i === 0 ? 'M' : 'L'}${p[0].toFixed(2)} ${p[1].toFixed(2)}`).join('') +
  (closed ? 'Z' : '');
