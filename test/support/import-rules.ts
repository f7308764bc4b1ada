import { posix } from 'node:path';
import type { Node } from './syntax.ts';
import { isNode, parseSource, walk } from './syntax.ts';

/**
 * The rules of who may import whom, and a checker that reads sources by their syntax tree.
 * Sources are given as text by repository path, so that the checker can be shown planted ones.
 */

/** Rooms of `src`, lowest first: a file may import what lies in a lower row, and its own room. */
const ROWS: readonly (readonly string[])[] = [
  ['progress'],
  ['errors', 'math'],
  ['model'],
  ['mesh'],
  ['io', 'kernel'],
  ['mend'],
  ['seam', 'section'],
  ['joint'],
  ['check', 'process'],
  ['handoff'],
  // Words are for the edge: nothing below the worker and the command line words anything.
  ['pipeline', 'lexicon'],
  ['worker'],
  ['cli'],
  ['index'],
];

/** Rooms beside the rows, with all that they may import. */
const ASIDE: Readonly<Record<string, readonly string[]>> = {
  demo: ['errors', 'progress', 'math', 'model', 'mesh', 'io'],
};

/** Who may import a room aside. */
const ASIDE_DOORS: readonly string[] = ['index'];

/** Packages `src` may use, and the one room that may: React, three and everything else are the page's. */
const PACKAGE_ROOMS: Readonly<Record<string, string>> = {
  'manifold-3d': 'kernel',
  'robust-predicates': 'math',
  zod: 'model',
  'd3-contour': 'seam',
  delaunator: 'seam',
  '@kninnug/constrainautor': 'seam',
  fflate: 'handoff',
  '@zip.js/zip.js': 'io',
  meshoptimizer: 'io',
  draco3dgltf: 'io',
};

/** What runs in Node alone; all else runs in a worker too. */
const NODE_PLACES: readonly string[] = ['src/cli/', 'src/worker/node/', 'src/demo/write-demo.ts'];

/** What the page may import of `src`. */
const APP_DOORS: readonly string[] = ['src/index.ts', 'src/worker/client.ts'];

/** Names of the page's world, never in `src`; and those of threads, in `src/worker` alone. */
const DOM_NAMES: readonly string[] = [
  'document',
  'window',
  'localStorage',
  'sessionStorage',
  'navigator',
  'HTMLElement',
];
const THREAD_NAMES: readonly string[] = ['Worker', 'postMessage', 'MessageChannel'];

/** Where kinds of joints and seams are known by name: elsewhere what is particular to one is asked of it. */
const KIND_PLACES: readonly string[] = ['src/joint/kinds/', 'src/seam/kinds/', 'src/model/'];
const KIND_NAMES: readonly string[] = ['taper', 'round', 'pin', 'magnet', 'plane'];
/** What of a seam is its kind's alone. */
const KIND_FIELDS: readonly string[] = ['normal', 'offsetMm', 'through', 'kind'];

/** Modules a source imports, and the names it uses that could be globals. */
interface Reading {
  imports: string[];
  names: Set<string>;
  members: Set<string>;
  /** Texts it compares, passes or keeps. */
  texts: Set<string>;
  /** What it reads of what a seam divides by, and of a seam, as `by.normal` and `seam.plane`. */
  ofSeams: Set<string>;
}

function readSource(path: string, code: string): Reading {
  const reading: Reading = {
    imports: [],
    names: new Set(),
    members: new Set(),
    texts: new Set(),
    ofSeams: new Set(),
  };
  walk(parseSource(path, code), (node, parent, field) => {
    if (isNode(node.source) && typeof node.source.value === 'string') reading.imports.push(node.source.value);
    else if (node.type === 'ImportExpression') reading.imports.push('(computed)');
    if (node.type === 'Literal' && typeof node.value === 'string') reading.texts.add(node.value);
    if (node.type === 'MemberExpression') readOfSeam(node, reading);
    if (node.type !== 'Identifier') return;
    const isMember = parent.type === 'MemberExpression' && field === 'property' && parent.computed !== true;
    const isKey = field === 'key' && parent.computed !== true && parent.shorthand !== true;
    if (isMember) reading.members.add(node.name as string);
    else if (!isKey) reading.names.add(node.name as string);
  });
  return reading;
}

function readOfSeam({ object, property }: Node, { ofSeams }: Reading): void {
  const called = (node: unknown) =>
    isNode(node) ? (isNode(node.property) ? node.property : node).name : null;
  const [of, what] = [called(object), called(property)];
  if (of === 'seam' && what === 'plane') ofSeams.add('seam.plane');
  if (of === 'by' && KIND_FIELDS.includes(what as string)) ofSeams.add(`by.${what}`);
}

/** `src/mesh/topology/weld.ts` lies in the room `mesh`, `src/errors.ts` in `errors`. */
const roomOf = (path: string): string => path.split('/')[1].replace(/\.tsx?$/, '');

const rowOf = (room: string): number => ROWS.findIndex((row) => row.includes(room));

const packageOf = (specifier: string): string =>
  specifier
    .split('/')
    .slice(0, specifier.startsWith('@') ? 2 : 1)
    .join('/');

function srcMayImport(from: string, to: string): boolean {
  if (from === to) return true;
  if (ASIDE[from]) return ASIDE[from].includes(to);
  if (ASIDE[to]) return ASIDE_DOORS.includes(from);
  return rowOf(to) >= 0 && rowOf(to) < rowOf(from);
}

/** The source that a relative import in `path` names. */
const targetOf = (path: string, specifier: string): string =>
  posix.normalize(posix.join(posix.dirname(path), specifier.replace(/\?.*$/, '')));

function importBreach(path: string, specifier: string): string | null {
  if (specifier === '(computed)') return 'imports a module by a computed name';
  const inSrc = path.startsWith('src/');
  if (!specifier.startsWith('.')) return inSrc ? packageBreach(path, specifier) : null;
  const target = targetOf(path, specifier);
  if (inSrc) {
    if (!target.startsWith('src/')) return `imports ${target}, outside src`;
    return srcMayImport(roomOf(path), roomOf(target)) ? null : `imports ${target}, which is not below it`;
  }
  if (!target.startsWith('src/')) return target.startsWith('app/') ? null : `imports ${target}, outside app`;
  return APP_DOORS.includes(target) ? null : `imports ${target}, which is no door of the engine`;
}

function packageBreach(path: string, specifier: string): string | null {
  if (specifier.startsWith('node:')) {
    const inNode = NODE_PLACES.some((place) => path.startsWith(place));
    return inNode ? null : `imports ${specifier}, which a worker has not`;
  }
  const room = roomOf(path);
  return PACKAGE_ROOMS[packageOf(specifier)] === room
    ? null
    : `imports ${specifier}, which is not for ${room}`;
}

function nameBreaches(path: string, { names, members }: Reading): string[] {
  if (!path.startsWith('src/')) return [];
  const dom = DOM_NAMES.filter((name) => names.has(name));
  const isWorker = roomOf(path) === 'worker';
  const threads = isWorker ? [] : THREAD_NAMES.filter((name) => names.has(name) || members.has(name));
  return [...dom, ...threads].map((name) => `uses ${name}`);
}

function kindBreaches(path: string, { texts, ofSeams }: Reading): string[] {
  if (KIND_PLACES.some((place) => path.startsWith(place))) return [];
  const named = KIND_NAMES.filter((name) => texts.has(name)).map((name) => `names the kind ${name}`);
  return [...named, ...[...ofSeams].map((what) => `reads ${what}`)];
}

/** Every breach of the rules in a set of sources (text by repository path), one sentence each. */
export function findBreaches(sources: ReadonlyMap<string, string>): string[] {
  return [...sources].flatMap(([path, code]) => {
    if (path.startsWith('src/') && rowOf(roomOf(path)) < 0 && !ASIDE[roomOf(path)]) {
      return [`${path} lies in no known room`];
    }
    const reading = readSource(path, code);
    const imports = reading.imports.flatMap((specifier) => importBreach(path, specifier) ?? []);
    return [...imports, ...nameBreaches(path, reading), ...kindBreaches(path, reading)].map(
      (breach) => `${path} ${breach}`,
    );
  });
}

/**
 * Circles of imports in a set of sources, imports of types among them, each as the sources along it: one for every
 * import that leads back to where a walk through all of them came by.
 */
export function findCircles(sources: ReadonlyMap<string, string>): string[] {
  const circles: string[] = [];
  const done = new Set<string>();
  const visit = (path: string, way: readonly string[]): void => {
    const from = way.indexOf(path);
    if (from >= 0) circles.push([...way.slice(from), path].join(' → '));
    if (from >= 0 || done.has(path)) return;
    for (const target of targetsOf(path, sources)) visit(target, [...way, path]);
    done.add(path);
  };
  for (const path of sources.keys()) visit(path, []);
  return circles;
}

/** The sources of the set that one of them imports. */
const targetsOf = (path: string, sources: ReadonlyMap<string, string>): string[] =>
  readSource(path, sources.get(path)!)
    .imports.filter((specifier) => specifier.startsWith('.'))
    .map((specifier) => targetOf(path, specifier))
    .filter((target) => sources.has(target));
