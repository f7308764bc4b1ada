import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { DEMO_TRIANGLES, makeDemoFigure } from '../../src/demo/demo-figure.ts';
import { DEMO_FILE, DEMO_JOB } from '../../src/demo/demo-job.ts';
import { HERON_SHELLS } from '../../src/demo/heron.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { readJob } from '../../src/pipeline/read-job.ts';
import { planeOf } from '../support/plane-of.ts';
import { badEdgeCount, leastArea, shellFacts } from './shell-facts.ts';

const packed = readFileSync(new URL(`../../public/demo/${DEMO_FILE}`, import.meta.url));
const shipped = decodePly(gunzipSync(packed));

/** Reads the one layout of PLY in which the figure is shipped. */
function decodePly(bytes: Buffer): Mesh {
  const end = bytes.indexOf('end_header\n') + 'end_header\n'.length;
  const header = bytes.toString('latin1', 0, end);
  const count = (what: string) => Number(new RegExp(`element ${what} (\\d+)`).exec(header)?.[1]);
  expect(header).toContain('format binary_little_endian 1.0');
  const positions = Float32Array.from({ length: count('vertex') * 3 }, (_, i) =>
    bytes.readFloatLE(end + i * 4),
  );
  const faces = end + positions.length * 4;
  const triangles = Uint32Array.from({ length: count('face') * 3 }, (_, i) =>
    bytes.readUInt32LE(faces + Math.floor(i / 3) * 13 + 1 + (i % 3) * 4),
  );
  expect(bytes.length).toBe(faces + count('face') * 13);
  return { positions, triangles };
}

const hash = (mesh: Mesh): string =>
  createHash('sha256').update(mesh.positions).update(mesh.triangles).digest('hex');

describe('the shipped figure', () => {
  test('is what the generator makes', { timeout: 120_000 }, () => {
    expect(hash(shipped)).toBe(hash(makeDemoFigure(DEMO_TRIANGLES)));
  });

  test('has 150 to 300 thousand triangles in under 2.5 MB', () => {
    expect(shipped.triangles.length / 3).toBeGreaterThan(150_000);
    expect(shipped.triangles.length / 3).toBeLessThan(300_000);
    expect(packed.length).toBeLessThan(2_500_000);
  });

  test('is closed and sound after rounding to its grid', () => {
    expect(badEdgeCount(shipped)).toBe(0);
    expect(leastArea(shipped)).toBeGreaterThan(1e-7);
    expect(
      shellFacts(shipped)
        .map((s) => s.euler)
        .sort(),
    ).toEqual(HERON_SHELLS.map((s) => 2 - 2 * s.holes).sort());
    expect(shipped.positions.every((v) => Number.isInteger(v * 512))).toBe(true);
  });
});

describe('the starting job', () => {
  const [seam] = DEMO_JOB.seams;
  const { normal, offsetMm } = planeOf(seam);

  test('is a valid job document', () => {
    expect(readJob('demo.json', JSON.parse(JSON.stringify(DEMO_JOB)))).toEqual(DEMO_JOB);
  });

  test('cuts the figure in one generous outline', () => {
    const outlines = sectionOutlines(shipped, normal, offsetMm);
    expect(outlines).toHaveLength(1);
    const across = outlines[0].map((p) => p[1]);
    expect(Math.max(...across) - Math.min(...across)).toBeGreaterThan(25);
  });

  test('has its peg on the seam, clear of the skin over its whole length by more than the wall it asks for', () => {
    const [peg] = seam.joints;
    if (peg.at === 'auto') throw new Error('the starting peg has a place of its own');
    const at = peg.at;
    expect(at[0] * normal[0] + at[1] * normal[1] + at[2] * normal[2]).toBeCloseTo(offsetMm, 9);
    const reach = Math.hypot(peg.widthMm ?? 0, peg.heightMm ?? 0) / 2 + DEMO_JOB.process.sideGapMm;
    for (const h of [0, 0.25, 0.5, 0.75, 1]) {
      const up = h * ((peg.lengthMm ?? 0) + DEMO_JOB.process.endGapMm);
      const axis = at.map((v, k) => v + up * normal[k]);
      expect(nearestVertex(shipped, axis) - reach).toBeGreaterThan(2);
    }
  });
});

/** The closed curves in which a plane cuts the mesh, as points. */
function sectionOutlines(
  { positions: p, triangles: t }: Mesh,
  n: readonly number[],
  offset: number,
): number[][][] {
  const side = (v: number) => n[0] * p[v * 3] + n[1] * p[v * 3 + 1] + n[2] * p[v * 3 + 2] - offset;
  const next = new Map<string, string>();
  const points = new Map<string, number[]>();
  for (let i = 0; i < t.length; i += 3) {
    let [from, to] = ['', ''];
    for (let k = 0; k < 3; k++) {
      const [a, b] = [t[i + k], t[i + ((k + 1) % 3)]];
      const [da, db] = [side(a), side(b)];
      if (da < 0 === db < 0) continue;
      const key = `${Math.min(a, b)}-${Math.max(a, b)}`;
      const s = da / (da - db);
      points.set(
        key,
        [0, 1, 2].map((c) => p[a * 3 + c] + s * (p[b * 3 + c] - p[a * 3 + c])),
      );
      if (da < 0) to = key;
      else from = key;
    }
    if (from) next.set(from, to);
  }
  const outlines: number[][][] = [];
  for (let key = next.keys().next().value; key !== undefined; key = next.keys().next().value) {
    const outline: number[][] = [];
    for (let at = next.get(key); at !== undefined; at = next.get(key)) {
      outline.push(points.get(key) ?? []);
      next.delete(key);
      key = at;
    }
    outlines.push(outline);
  }
  return outlines;
}

function nearestVertex({ positions: p }: Mesh, q: readonly number[]): number {
  let least = Infinity;
  for (let i = 0; i < p.length; i += 3)
    least = Math.min(least, Math.hypot(p[i] - q[0], p[i + 1] - q[1], p[i + 2] - q[2]));
  return least;
}
