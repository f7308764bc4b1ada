import type { FitProfiles, Vec2 } from './engine.ts';
import type { Nearest } from './nearest-between.ts';

/** Measures taken on the profiles of a section, mm; open flat u, v pairs. */

/** Point of an open line nearest to p. */
export function nearestOnLine(line: Float64Array, [x, y]: Vec2): Vec2 {
  let best: Vec2 = [line[0], line[1]];
  let least = Infinity;
  for (let i = 2; i < line.length; i += 2) {
    const dx = line[i] - line[i - 2];
    const dy = line[i + 1] - line[i - 1];
    const along = (x - line[i - 2]) * dx + (y - line[i - 1]) * dy;
    const t = Math.min(1, Math.max(0, along / (dx * dx + dy * dy || 1)));
    const px = line[i - 2] + t * dx;
    const py = line[i - 1] + t * dy;
    const d = (px - x) ** 2 + (py - y) ** 2;
    if (d >= least) continue;
    best = [px, py];
    least = d;
  }
  return best;
}

/** Where a line crosses the level where coordinate `axis` (0: u, 1: v) is `at`: the other coordinate of each crossing. */
function crossings(line: Float64Array, axis: 0 | 1, at: number): number[] {
  const out: number[] = [];
  for (let i = 2; i < line.length; i += 2) {
    const a = line[i - 2 + axis];
    const b = line[i + axis];
    if (a === b || Math.min(a, b) > at || Math.max(a, b) < at) continue;
    const t = (at - a) / (b - a);
    const other = 1 - axis;
    out.push(line[i - 2 + other] + t * (line[i + other] - line[i - 2 + other]));
  }
  return out;
}

/** The side gap at height v, square to the peg's side; null where the peg has no side there. */
export function sideGapAt(joint: FitProfiles, side: -1 | 1, v: number): Nearest | null {
  const us = crossings(joint.pegProfile, 1, v);
  if (us.length === 0) return null;
  const from: Vec2 = [side * Math.max(...us.map((u) => side * u)), v];
  const to = nearestOnLine(joint.socketProfile, from);
  return { from, to, mm: Math.hypot(to[0] - from[0], to[1] - from[1]) };
}

/** The end gap at u, along the axis; null where peg or socket has no end there. */
export function endGapAt(joint: FitProfiles, u: number): Nearest | null {
  const peg = crossings(joint.pegProfile, 0, u);
  const socket = crossings(joint.socketProfile, 0, u);
  if (peg.length === 0 || socket.length === 0) return null;
  const [v, w] = [Math.max(...peg), Math.max(...socket)];
  return { from: [u, v], to: [u, w], mm: w - v };
}

/** The peg's foot on the face, or on a hollow's floor, its width there, and its length. */
export function pegExtent({ pegProfile, footMm }: FitProfiles): {
  left: Vec2;
  right: Vec2;
  widthMm: number;
  lengthMm: number;
} {
  const n = pegProfile.length;
  const ends: Vec2[] = [
    [pegProfile[0], pegProfile[1]],
    [pegProfile[n - 2], pegProfile[n - 1]],
  ];
  const [left, right] = ends[0][0] <= ends[1][0] ? ends : [ends[1], ends[0]];
  let tip = footMm;
  for (let i = 1; i < n; i += 2) tip = Math.max(tip, pegProfile[i]);
  return { left, right, widthMm: right[0] - left[0], lengthMm: tip - footMm };
}

/** How far the end of a whole profile may be from its foot's level and from being its widest, mm. */
const FOOT_MM = 0.1;

/** True where peg and socket both run from foot to foot: not where the cut meets an edge that a joint reaches over. */
export const isWholeJoint = ({ pegProfile, socketProfile, footMm }: FitProfiles): boolean =>
  isWholeProfile(pegProfile, footMm) && isWholeProfile(socketProfile, footMm);

function isWholeProfile(line: Float64Array, footMm: number): boolean {
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < line.length; i += 2) [low, high] = [Math.min(low, line[i]), Math.max(high, line[i])];
  const [u0, v0, u1, v1] = [line[0], line[1], line[line.length - 2], line[line.length - 1]];
  const areFeet = Math.abs(v0 - footMm) < FOOT_MM && Math.abs(v1 - footMm) < FOOT_MM;
  return line.length >= 4 && areFeet && Math.min(u0, u1) < low + FOOT_MM && Math.max(u0, u1) > high - FOOT_MM;
}

/** The gap as one closed outline: up the socket's profile and back down the peg's. */
export function gapOutline({
  pegProfile,
  socketProfile,
}: Pick<FitProfiles, 'pegProfile' | 'socketProfile'>): Float64Array {
  const n = pegProfile.length;
  const out = new Float64Array(socketProfile.length + n);
  out.set(socketProfile);
  const m = socketProfile.length;
  const sameWay = (pegProfile[n - 2] - pegProfile[0]) * (socketProfile[m - 2] - socketProfile[0]) > 0;
  for (let i = 0; i < n; i += 2) {
    const k = sameWay ? n - 2 - i : i;
    out[m + i] = pegProfile[k];
    out[m + i + 1] = pegProfile[k + 1];
  }
  return out;
}
