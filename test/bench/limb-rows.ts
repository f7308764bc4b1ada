import { makeRandom } from '../../src/demo/prng.ts';
import { add, cross, normalize, scale, sub, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { planeSeam } from '../../src/model/seam-spec.ts';
import type { Evaluator } from '../../src/pipeline/evaluate.ts';
import type { LimbClick } from '../../src/seam/kind.ts';
import { median, percentile, type Row, row } from './row.ts';

/** Two frames of a page that draws sixty a second, ms. */
const TWO_FRAMES = 33;
const WARM = 20;

/** The narrowest place of a limb from clicks all over a figure, seeded, each looked at from about its own side. */
export function limbRows(
  evaluator: Pick<Evaluator, 'narrowest'>,
  { mesh, originMm }: { mesh: Mesh; originMm: Vec3 },
  who: { name: string; triangles: number },
  clicks: number,
  onePass: () => void,
): Row[] {
  const ours: number[] = [];
  const brute: number[] = [];
  for (let i = -WARM; i < clicks; i++) {
    const click = clickOn(mesh, originMm, makeRandom(31_000 + i));
    const start = performance.now();
    evaluator.narrowest('any', planeSeam([0, 0, 1], 0), click);
    const middle = performance.now();
    onePass();
    if (i < 0) continue;
    ours.push(middle - start);
    brute.push(performance.now() - middle);
  }
  const against = 'one pass over all triangles, the same percentile';
  const isLarge = who.triangles > 500_000 && who.triangles < 2_000_000;
  return [
    row('narrowest place from a click, p95', who, percentile(ours, 0.95), {
      atMost: isLarge ? TWO_FRAMES : null,
    }),
    row('narrowest place from a click, p95 against a pass', who, percentile(ours, 0.95), {
      reference: percentile(brute, 0.95),
      against,
      atMost: isLarge ? 3.5 : null,
    }),
    row('narrowest place from a click, median', who, median(ours), { reference: median(brute), against }),
  ];
}

function clickOn({ positions: p, triangles: t }: Mesh, originMm: Vec3, random: () => number): LimbClick {
  const i = Math.floor((random() * t.length) / 3) * 3;
  const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
    const v = t[i + k] * 3;
    return [p[v], p[v + 1], p[v + 2]];
  });
  const outward = normalize(cross(sub(b, a), sub(c, a)));
  const glance = scale(normalize([random() - 0.5, random() - 0.5, random() - 0.5]), 0.4);
  return { at: add(scale(add(add(a, b), c), 1 / 3), originMm), inward: normalize(sub(glance, outward)) };
}
