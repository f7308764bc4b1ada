import { lettersOf } from './joint.ts';

/** Job documents of earlier versions, made into the next one step by step. What is wrong in one is left to be told. */

type Json = Record<string, unknown>;
type Path = readonly PropertyKey[];

interface Migration {
  /** Keys that no document of the version before has, though this one would take them; and where they are. */
  strange(job: Json): StrangeKeys | null;
  to(job: Json): Json;
  /** A place of the migrated document, as the one before has it. */
  was(path: Path): Path;
}

export interface StrangeKeys {
  path: Path;
  keys: string[];
}

/** By the version they start from. */
const MIGRATIONS: Readonly<Record<number, Migration>> = {
  /** A seam was a plane and had pegs, known by their order. */
  1: {
    strange: ({ seams }) => firstOf(seams, strangeIn1),
    to: (job) => ({ ...job, version: 2, seams: each(job.seams, seamFrom1) }),
    was: ([seams, i, part, ...rest]) => {
      const name = part === 'joints' ? 'pegs' : part === 'by' && rest[0] !== 'through' ? 'plane' : part;
      const inside = part === 'by' && rest[0] === 'through' ? rest : [name, ...rest];
      return [seams, i, ...(part === undefined ? [] : inside)].filter((key) => key !== undefined);
    },
  },
};

/** The newest version, which this engine works on. */
export const JOB_VERSION = 2;

/** A document of the newest version, and the places of one as the document it came from has them. */
export interface Migrated {
  json: unknown;
  was(path: Path): Path;
  /** What the document has that its version does not know. */
  strange: StrangeKeys | null;
}

export function migrated(json: unknown): Migrated {
  let now = json;
  let was = (path: Path): Path => path;
  while (isObject(now)) {
    const migration = MIGRATIONS[now.version as number];
    if (!migration) break;
    const strange = migration.strange(now);
    if (strange) return { json: now, was, strange };
    const later = was;
    was = (path) => later(migration.was(path));
    now = migration.to(now);
  }
  return { json: now, was, strange: null };
}

function seamFrom1({ plane, through, pegs, ...rest }: Json): Json {
  const by = isObject(plane) ? { kind: 'plane', ...plane, ...(through !== undefined && { through }) } : plane;
  const joints = each(pegs, (peg, i) => ({ id: lettersOf(i + 1), ...peg }));
  return { ...rest, ...(by !== undefined && { by }), ...(joints !== undefined && { joints }) };
}

/** What a seam of version 1 cannot have: what version 2 calls its plane and its pegs. */
function strangeIn1(seam: Json, i: number): StrangeKeys | null {
  const among = (item: unknown, path: Path, names: readonly string[]): StrangeKeys | null => {
    const keys = isObject(item) ? names.filter((name) => name in item) : [];
    return keys.length > 0 ? { path, keys } : null;
  };
  return (
    among(seam, ['seams', i], ['by', 'joints']) ??
    among(seam.plane, ['seams', i, 'plane'], ['kind', 'through']) ??
    firstOf(seam.pegs, (peg, k) => among(peg, ['seams', i, 'pegs', k], ['id']))
  );
}

/** The first thing that is found in some object of a list. */
function firstOf<T>(list: unknown, find: (item: Json, i: number) => T | null): T | null {
  if (!Array.isArray(list)) return null;
  for (const [i, item] of list.entries()) {
    const found = isObject(item) ? find(item, i) : null;
    if (found !== null) return found;
  }
  return null;
}

const isObject = (value: unknown): value is Json =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A list with every object in it changed; anything else as it is. */
const each = (list: unknown, change: (item: Json, i: number) => Json): unknown =>
  Array.isArray(list) ? list.map((item, i) => (isObject(item) ? change(item, i) : item)) : list;
