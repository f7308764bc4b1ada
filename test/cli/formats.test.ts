import { afterAll, describe, expect, it } from 'vitest';
import { makeCliFolder } from '../support/cli-folder.ts';
import { lumpySphere } from '../support/figures.ts';
import { fuzzSubjects } from '../support/fuzz-subjects.ts';
import { everyFormat, gzipped } from '../support/mesh-files.ts';
import { randomBelow } from '../support/mutations.ts';
import { answerOf, runCli } from '../support/run-cli.ts';
import { runCommand } from '../support/run-command.ts';
import { everyScene, gltfDraft, threeMf } from '../support/scene-files.ts';
import { box, type Polyhedron } from '../support/simple-solids.ts';

/** Every format from outside, by the command. */

const folder = makeCliFolder();
afterAll(() => folder.remove());

/** A figure on a grid of 125 mm, which metres and millimetres hold alike in single precision. */
function gridFigure(): Polyhedron {
  const { positions, triangles } = lumpySphere(23, 40);
  const at = (i: number): [number, number, number] => {
    const [x, y, z] = positions.subarray(i * 3, i * 3 + 3);
    return [Math.round(x * 32) * 125, Math.round(y * 32) * 125, Math.round(z * 32) * 125];
  };
  return {
    vertices: Array.from({ length: positions.length / 3 }, (_, i) => at(i)),
    faces: Array.from({ length: triangles.length / 3 }, (_, t) =>
      Array.from(triangles.subarray(t * 3, t * 3 + 3)),
    ),
  };
}

type Inspection = Record<string, unknown> & { format: string; unit: string; declaredUnit: string | null };

describe('inspect', () => {
  it('prints the same numbers for one figure in all formats', async () => {
    const figure = gridFigure();
    const files = [...everyFormat(figure), ...everyScene(figure)];
    const answers = new Map<string, Inspection>();
    for (const [name, bytes] of files) {
      const run = await runCommand(['inspect', folder.put(name, bytes)]);
      expect(run.exitCode).toBe(0);
      answers.set(name, answerOf<Inspection>(run));
    }
    const units = [...answers].map(([name, { format, unit, declaredUnit }]) => [
      name,
      format,
      unit,
      declaredUnit,
    ]);
    expect(units).toEqual([
      ['binary.stl', 'stl', 'mm', null],
      ['text.stl', 'stl', 'mm', null],
      ['solid.obj', 'obj', 'mm', null],
      ['text.ply', 'ply', 'mm', null],
      ['little.ply', 'ply', 'mm', null],
      ['big.ply', 'ply', 'mm', null],
      ['solid.off', 'off', 'mm', null],
      ['solid.3mf', '3mf', 'mm', 'mm'],
      ['solid.gltf', 'gltf', 'm', 'm'],
      ['solid.glb', 'glb', 'm', 'm'],
    ]);
    const numbers = [...answers.values()].map(({ format: _f, unit: _u, declaredUnit: _d, ...rest }) => rest);
    expect(numbers[0]).toMatchObject({
      triangles: figure.faces.length,
      openEdges: 0,
      solid: true,
      repairs: [],
    });
    for (const other of numbers.slice(1)) expect(other).toEqual(numbers[0]);
  });

  it('takes a glTF with its buffer, an OBJ with its materials, and several figures, as one', async () => {
    const { json, bin } = gltfDraft(box([0, 0, 0], [1000, 1000, 1000]));
    json.buffers[0].uri = 'block.bin';
    const gltf = [folder.put('block.gltf', JSON.stringify(json)), folder.put('block.bin', bin)];
    const inch = folder.put('inch.3mf', threeMf(box([100, 0, 0], [101, 1, 1]), 'unit="inch"'));
    const run = await runCli(['inspect', ...gltf, inch]);
    expect(run.exitCode).toBe(0);
    expect(answerOf<Inspection>(run)).toMatchObject({
      format: 'gltf',
      declaredUnit: null,
      triangles: 24,
      shells: 2,
    });
    const alone = await runCli(['inspect', gltf[0]]);
    expect(alone.exitCode).toBe(2);
    expect(alone.complaints[0]).toMatch(
      /^pegwright: block\.gltf: .*“block\.bin”, which was not given; open both/,
    );
  });
});

describe('make', () => {
  const job = (sculpt: object) =>
    JSON.stringify({
      format: 'pegwright-job',
      version: 1,
      sculpt,
      process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [1400, 850, 1700] },
      seams: [
        {
          id: 'middle',
          plane: { normal: [0, 0, 1], offsetMm: 15 },
          names: { front: 'top', back: 'foot' },
          pegs: [{ kind: 'taper', at: 'auto' }],
        },
      ],
    });

  it.each([
    ['what the file declares', {}, 25.4],
    ['what the job says', { unit: 'cm' }, 10],
  ])('goes by %s', async (_, unit, mm) => {
    folder.put('inch block.3mf', threeMf(box([0, 0, 0], [2, 2, 3]), 'unit="inch"'));
    const path = folder.put('inch.json', job({ file: 'inch block.3mf', ...unit }));
    const run = await runCommand(['make', path, '--out', `${folder.path}/inch parts`]);
    const { volume } = answerOf<{ volume: { sculptMm3: number } }>(run);
    expect(volume.sculptMm3 / (12 * mm ** 3)).toBeCloseTo(1, 6);
  });

  it('takes the further files that a job names', async () => {
    const { json, bin } = gltfDraft(box([0, 0, 0], [30, 30, 30]));
    json.buffers[0].uri = 'small.bin';
    folder.put('small.gltf', JSON.stringify(json));
    folder.put('small.bin', bin);
    const path = folder.put('both.json', job({ file: 'small.gltf', also: ['small.bin'] }));
    const run = await runCommand(['make', path, '--out', `${folder.path}/gltf parts`]);
    expect(run.exitCode).toBe(0);
    expect(answerOf<{ volume: { sculptMm3: number } }>(run).volume.sculptMm3).toBeCloseTo(27_000, 1);
  });
});

describe('damaged files by the command', () => {
  it('end with 0, 1 or 2, and 2 in one line, ten mutations of each from seed 53', async () => {
    const below = randomBelow(53);
    const codes = new Map<number, number>();
    for (const { name, bytes, mutation } of await fuzzSubjects()) {
      for (let run = 0; run < 10; run++) {
        const path = folder.put('damaged', mutation(bytes, below));
        const { exitCode, stdout, complaints } = await runCommand(['inspect', path]);
        codes.set(exitCode, (codes.get(exitCode) ?? 0) + 1);
        if (exitCode === 2) {
          expect(stdout, name).toBe('');
          expect(complaints, name).toHaveLength(1);
          expect(complaints[0], name).toMatch(/^pegwright: damaged: .{20,300}\.$/);
          expect(complaints[0], name).not.toMatch(/should not have/);
        } else {
          expect(complaints, name).toEqual([]);
          expect(() => JSON.parse(stdout)).not.toThrow();
        }
      }
    }
    expect([...codes.keys()].sort()).toEqual([0, 1, 2]);
  });

  it('end so in processes of their own too', async () => {
    const figure = gridFigure();
    const packed = await gzipped(threeMf(figure));
    const cut = folder.put('cut.3mf.gz', packed.slice(0, packed.length >> 1));
    const refused = await runCli(['inspect', cut]);
    expect(refused.exitCode).toBe(2);
    expect(refused.complaints).toHaveLength(1);
    const read = await runCli(['inspect', folder.put('whole.3mf.gz', packed)]);
    expect(read.exitCode).toBe(0);
  });
});
