import { readdirSync, readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { findBreaches, findCircles } from './support/import-rules.ts';
import { findWords } from './support/word-rules.ts';

const root = resolve(import.meta.dirname, '..');

/** All sources of the engine and the page, by their path from the top. */
function readSources(): Map<string, string> {
  const sources = new Map<string, string>();
  for (const folder of ['src', 'app']) {
    for (const name of readdirSync(resolve(root, folder), { recursive: true, encoding: 'utf8' })) {
      const path = `${folder}/${name.replaceAll('\\', '/')}`;
      if (/\.tsx?$/.test(path)) sources.set(path, readFileSync(resolve(root, path), 'utf8'));
    }
  }
  return sources;
}

describe('the sources', () => {
  it('import downwards only, and keep to their rooms', () => {
    const sources = readSources();
    expect(sources.size).toBeGreaterThan(100);
    expect(findBreaches(sources)).toEqual([]);
  });

  it('leave all words for people to the lexicon', () => {
    expect(findWords(readSources())).toEqual([]);
  });

  it('import each other in no circle', () => {
    expect(findCircles(readSources())).toEqual([]);
  });
});

/** Each source breaks one rule, and the sentence that must come of it. */
const PLANTED: [path: string, code: string, breach: string][] = [
  [
    'src/math/vec3.ts',
    "import { weld } from '../mesh/topology/weld.ts';",
    'imports src/mesh/topology/weld.ts, which is not below',
  ],
  ['src/mesh/a.ts', "import type { Job } from '../seam/cut.ts';", 'imports src/seam/cut.ts'],
  ['src/io/a.ts', "export { loadKernel } from '../kernel/load.ts';", 'imports src/kernel/load.ts'],
  ['src/kernel/a.ts', "export * from '../io/formats.ts';", 'imports src/io/formats.ts'],
  ['src/mend/a.ts', "import { cutPart } from '../seam/cut.ts';", 'imports src/seam/cut.ts'],
  [
    'src/kernel/b.ts',
    "import { reSkin } from '../mend/skin/re-skin.ts';",
    'imports src/mend/skin/re-skin.ts',
  ],
  ['src/seam/a.ts', "const gap = await import('../section/gap.ts');", 'imports src/section/gap.ts'],
  [
    'src/joint/a.ts',
    "let a: import('../pipeline/evaluate.ts').Evaluator;",
    'imports src/pipeline/evaluate.ts',
  ],
  ['src/check/a.ts', "import '../process/cards.ts';", 'imports src/process/cards.ts'],
  [
    'src/pipeline/a.ts',
    "import { lexiconFor } from '../lexicon/lexicon.ts';",
    'imports src/lexicon/lexicon.ts',
  ],
  ['src/worker/a.ts', "import { make } from '../cli/make.ts';", 'imports src/cli/make.ts'],
  ['src/worker/b.ts', "import { plane } from '../index.ts';", 'imports src/index.ts'],
  ['src/demo/a.ts', "import { cutPart } from '../seam/cut.ts';", 'imports src/seam/cut.ts'],
  ['src/pipeline/b.ts', "import { buildHeron } from '../demo/heron.ts';", 'imports src/demo/heron.ts'],
  ['src/mesh/b.ts', "import { shelf } from '../../app/state/shelf.ts';", 'outside src'],
  ['src/mesh/c.ts', "import Module from 'manifold-3d';", 'imports manifold-3d, which is not for mesh'],
  ['src/mesh/d.ts', "import { useState } from 'react';", 'imports react'],
  ['src/mesh/e.ts', "import { Box3 } from 'three/addons/box.js';", 'imports three/addons/box.js'],
  ['src/mesh/f.ts', "import { readFile } from 'node:fs/promises';", 'which a worker has not'],
  ['src/cli/a.ts', 'const name = "./make.ts"; await import(name);', 'computed name'],
  ['src/pipeline/c.ts', "const w = new Worker('a.js');", 'uses Worker'],
  ['src/pipeline/d.ts', 'self.postMessage(1);', 'uses postMessage'],
  ['src/model/a.ts', "export const kept = () => localStorage.getItem('a');", 'uses localStorage'],
  ['src/worker/c.ts', 'export const at = () => window.innerWidth;', 'uses window'],
  ['src/seam/b.ts', 'export const el = document.body;', 'uses document'],
  ['src/extra/a.ts', 'export {};', 'lies in no known room'],
  ['app/panels/A.tsx', "import { cutPart } from '../../src/seam/cut.ts';", 'no door of the engine'],
  ['app/B.tsx', "import type { Job } from '../src/model/job.ts';", 'no door of the engine'],
  ['src/check/b.ts', "export const is = (kind: string) => kind === 'round';", 'names the kind round'],
  ['app/D.tsx', "export const KINDS = ['taper'];", 'names the kind taper'],
  ['src/pipeline/e.ts', 'export const of = (seam: { plane: number }) => seam.plane;', 'reads seam.plane'],
  ['app/e.ts', 'export const n = (s: { by: { normal: 1 } }) => s.by.normal;', 'reads by.normal'],
  ['app/C.tsx', "import { box } from '../test/support/simple-solids.ts';", 'outside app'],
];

/** What the rules allow, close to what they forbid. */
const ALLOWED: [path: string, code: string][] = [
  ['src/pipeline/a.ts', "import { weld } from '../mesh/topology/weld.ts'; // import '../cli/make.ts'"],
  ['src/io/a.ts', "/** The window of a document. */ export const text = 'new Worker(document)';"],
  ['src/io/b.ts', 'export const at = (o: { window: number }) => o.window + { document: 1 }.document;'],
  ['src/worker/a.ts', "new Worker(new URL('./entry.ts', import.meta.url)).postMessage(1);"],
  ['src/index.ts', "export { DEMO_FILE } from './demo/demo-job.ts';"],
  ['src/kernel/a.ts', "import type { Manifold } from 'manifold-3d';"],
  ['src/cli/a.ts', "import { stat } from 'node:fs/promises';"],
  ['src/joint/kinds/a.ts', "export const name = 'round';"],
  ['app/c.ts', 'export const of = (frame: { plane: number }) => frame.plane;'],
  ['app/A.tsx', "import { plane } from '../src/index.ts'; export const A = () => <b>{document.title}</b>;"],
  ['app/b.ts', "import { createClient } from '../src/worker/client.ts'; import './ui/theme.css';"],
];

describe('the checker', () => {
  for (const [path, code, breach] of PLANTED) {
    it(`sees the breach in ${path}: ${code}`, () => {
      const found = findBreaches(new Map([[path, code]]));
      expect(found).toHaveLength(1);
      expect(found[0]).toContain(path);
      expect(found[0]).toContain(breach);
    });
  }

  for (const [path, code] of ALLOWED) {
    it(`has nothing against ${path}: ${code}`, () => {
      expect(findBreaches(new Map([[path, code]]))).toEqual([]);
    });
  }
});

/** Each source says something, and the words that must be found. What templates put in is written @{…}. */
const WORDED: [path: string, code: string, says: string][] = [
  ['src/io/a.ts', "throw malformed(feed, 'a tag has no end');", 'a tag has no end'],
  ['src/check/a.ts', 'const reason = `there is no vertex @{index}`;', 'there is no vertex …'],
  ['src/mesh/a.ts', 'const name = `body @{index + 1}`;', 'body …'],
  ['src/cli/a.ts', 'const told = `@{file}: missing`;', '…: missing'],
  ['src/model/a.ts', "schema.refine(check, 'two, of one name');", 'two, of one name'],
  ['src/pipeline/a.ts', 'const text = `@{count} of @{all} mm`;', '… of …'],
  ['src/section/a.ts', "const told = 'a uniform gap is left';", 'a uniform gap is left'],
  ['app/a.ts', "export const text = 'Sagt nichts';", 'Sagt nichts'],
  ['app/state/a.ts', "say({ tone: 'info', text: 'Nothing was saved.' });", 'Nothing was saved.'],
  ['app/A.tsx', 'const A = () => <p>Close</p>;', 'Close'],
  ['app/B.tsx', 'const B = () => <button aria-label="Close">×</button>;', 'Close'],
  ['app/C.tsx', 'const C = () => <i title={`@{n} more`} />;', '… more'],
  ['app/D.tsx', "const D = () => <p>{isDone ? words.done : 'not yet'}</p>;", 'not yet'],
];

/** What says nothing to anybody, close to what does. */
const WORDLESS: [path: string, code: string][] = [
  ['src/io/a.ts', "throw malformed(feed, { is: 'tag-endless' }); // a tag has no end"],
  ['src/worker/a.ts', "throw new Error('no sculpt is open');"],
  ['src/io/stl/write.ts', "const HEADER = 'binary STL, millimetres';"],
  ['src/lexicon/english/a.ts', "export const a = 'Nothing was saved.';"],
  ['src/demo/a.ts', "const usage = 'usage: write-demo.ts --out FILE';"],
  ['src/cli/a.ts', 'process.stderr.write(`pegwright: @{sentence}`);'],
  ['app/A.tsx', 'const A = () => <p className="wide soft">{words.close} <b>{size} mm²</b></p>;'],
  ['app/B.tsx', 'const B = () => <g transform={`translate(@{x} @{y}) rotate(@{turn})`} />;'],
  ['app/c.ts', "const dark = matchMedia('(prefers-color-scheme: dark)');"],
  ['app/d.ts', 'const shader = `varying vec3 at; void main() { gl_FragColor = vec4(at, @{alpha}); }`;'],
];

const planted = (path: string, code: string) => new Map([[path, code.replaceAll('@', () => '$')]]);

describe('the checker of words', () => {
  for (const [path, code, says] of WORDED) {
    it(`hears “${says}” in ${path}`, () => {
      expect(findWords(planted(path, code))).toEqual([
        `${path} says “${says}”, which is for the lexicon to say`,
      ]);
    });
  }

  for (const [path, code] of WORDLESS) {
    it(`hears nothing in ${path}: ${code}`, () => {
      expect(findWords(planted(path, code))).toEqual([]);
    });
  }
});

/** Sources that import in a circle, by path, and the circle that must be seen. */
const CIRCLES: [what: string, sources: Record<string, string>, circle: string][] = [
  ['a source that imports itself', { 'src/a.ts': "import './a.ts';" }, 'src/a.ts → src/a.ts'],
  [
    'two that import each other',
    { 'app/a/A.tsx': "import { b } from '../b.ts';", 'app/b.ts': "import { A } from './a/A.tsx';" },
    'app/a/A.tsx → app/b.ts → app/a/A.tsx',
  ],
  [
    'two of which one takes a type alone',
    { 'src/a.ts': "import type { B } from './b.ts';", 'src/b.ts': "export * from './a.ts';" },
    'src/a.ts → src/b.ts → src/a.ts',
  ],
  [
    'three, by an import within a type and one when it is asked for',
    {
      'src/a.ts': "import './b.ts';",
      'src/b.ts': "let c: import('./c.ts').C;",
      'src/c.ts': "const d = () => import('./d.ts');",
      'src/d.ts': "import './b.ts';",
    },
    'src/b.ts → src/c.ts → src/d.ts → src/b.ts',
  ],
];

describe('the seeker of circles', () => {
  for (const [what, sources, circle] of CIRCLES) {
    it(`sees ${what}`, () => {
      expect(findCircles(new Map(Object.entries(sources)))).toEqual([circle]);
    });
  }

  it('has nothing against one source that two others import, nor against one that is not there', () => {
    const sources = {
      'src/a.ts': "import './b.ts'; import './c.ts'; import 'zod'; import './look.css';",
      'src/b.ts': "import './d.ts';",
      'src/c.ts': "import './d.ts'; import './b.ts';",
      'src/d.ts': '// import "./a.ts"',
    };
    expect(findCircles(new Map(Object.entries(sources)))).toEqual([]);
  });
});
