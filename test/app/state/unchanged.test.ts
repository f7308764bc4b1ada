import { describe, expect, it } from 'vitest';
import { withUnchanged } from '../../../app/state/unchanged.ts';
import type { EvaluationView } from '../../../src/index.ts';

/** A view of one seam as it would come from the worker: every array anew. */
const viewOf = (corner: number, areaMm2 = 1, wallMm = 1, tipMm = 6): EvaluationView =>
  ({
    parts: [],
    seams: [
      {
        id: 's',
        facets: [
          {
            frame: { origin: [0, 0, 5], u: [1, 0, 0], v: [0, 1, 0], n: [0, 0, 1] },
            outlines: [Float64Array.of(0, 0, corner, 0, 0, 1)],
          },
        ],
        areaMm2,
      },
    ],
    contours: { s: [[{ wallMm, lines: [Float64Array.of(0.1, 0.1, corner / 2, 0.1, 0.1, 0.5)] }]] },
    section: {
      pegProfile: Float64Array.of(-3, 0, 0, tipMm, 3, 0),
      socketProfile: Float64Array.of(-4, 0, 4, 0),
      footMm: 0,
      further: [
        {
          pegProfile: Float64Array.of(-3, 0, 0, -tipMm, 3, 0),
          socketProfile: new Float64Array(0),
          footMm: 0,
        },
      ],
    },
  }) as unknown as EvaluationView;

describe('what has not changed between two views', () => {
  it('is the very same, whatever else has changed', () => {
    const before = viewOf(1);
    const now = withUnchanged(before, viewOf(1, 2));
    expect(now.seams[0].facets[0].outlines).toBe(before.seams[0].facets[0].outlines);
    expect(now.seams[0].facets[0].frame).toBe(before.seams[0].facets[0].frame);
    expect(now.contours.s[0]).toBe(before.contours.s[0]);
    expect(now.seams[0].areaMm2).toBe(2);
  });

  it('is only what is the same to the last bit', () => {
    const next = viewOf(1 + Number.EPSILON);
    const now = withUnchanged(viewOf(1), next);
    expect(now.seams[0].facets[0].outlines).toBe(next.seams[0].facets[0].outlines);
    expect(now.contours.s[0]).toBe(next.contours.s[0]);
    const walled = viewOf(1, 1, 2);
    expect(withUnchanged(viewOf(1), walled).contours.s[0]).toBe(walled.contours.s[0]);
  });

  it('is a profile but for the rounding of its corners', () => {
    const before = viewOf(1);
    const moved = withUnchanged(before, viewOf(1, 1, 1, 6 + 1e-5));
    expect(moved.section?.pegProfile).toBe(before.section?.pegProfile);
    const longer = viewOf(1, 1, 1, 6.001);
    const now = withUnchanged(before, longer);
    expect(now.section?.pegProfile).toBe(longer.section?.pegProfile);
    expect(now.section?.socketProfile).toBe(before.section?.socketProfile);
    expect(moved.section?.further).toBe(before.section?.further);
    expect(now.section?.further[0].pegProfile).toBe(longer.section?.further[0].pegProfile);
  });

  it('is a part whose meshes go by the same names and whose figures are the same', () => {
    const lidOf = (key: string) => ({ key, mesh: null });
    const part = (lid: string, areaMm2 = 1) => ({
      id: 'a',
      areaMm2,
      skins: [{ key: 'skin', mesh: null }],
      lid: lidOf(lid),
      away: [0, 0, 1],
    });
    const withParts = (...parts: unknown[]) => ({ ...viewOf(1), parts }) as unknown as EvaluationView;
    const before = withParts({ ...part('l'), id: 'gone' }, part('lid'));
    expect(withUnchanged(before, withParts(part('lid'))).parts[0]).toBe(before.parts[1]);
    for (const other of [
      part('other'),
      part('lid', 2),
      { ...part('lid'), skins: [{ key: 'worn', mesh: null }] },
      { ...part('lid'), skins: [] },
      { ...part('lid'), id: 'b' },
    ]) {
      const next = withParts(other);
      expect(withUnchanged(before, next).parts[0]).toBe(next.parts[0]);
    }
  });

  it('is nothing where there was no view', () => {
    const view = viewOf(1);
    expect(withUnchanged(null, view)).toBe(view);
  });
});
