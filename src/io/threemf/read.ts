import { PegwrightError } from '../../errors.ts';
import { LIMITS } from '../../model/limits.ts';
import { type Affine, compose, IDENTITY, scaling } from '../build/affine.ts';
import { checkBodyCount, type Placed, placeAll } from '../build/place.ts';
import { type Feed, malformed, tooMany } from '../bytes/feed.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { type Archive, openArchive } from '../zip/archive.ts';
import { findStartPart } from './package-part.ts';
import { type ModelPart, type Reference, readModelPart, unitRatio } from './part.ts';

/**
 * Reads what a 3MF package builds, a body for every mesh of every build item (3MF Core Specification 1.4.0).
 * A package that builds nothing gives the objects that no other is made of.
 */
export async function readThreeMf(feed: Feed): Promise<RawMesh> {
  const archive = await openArchive(feed);
  const start = await findStartPart(feed, archive);
  if (start === null) throw new PegwrightError('format-unknown', { file: feed.file, looksLike: 'zip' });
  const model = new Model(feed, archive);
  return model.build(start);
}

/** What names an object: where it stands itself, what it is called, and how deep it is. */
interface Outer {
  at: Affine;
  name: string;
  depth: number;
}

const BUILD: Outer = { at: IDENTITY, name: '', depth: 0 };

/** A package's model parts, each read when it is first named, and what is placed so far. */
class Model {
  readonly #feed: Feed;
  readonly #archive: Archive;
  readonly #parts = new Map<string, ModelPart>();
  readonly #placed: Placed[] = [];
  #visits = 0;

  constructor(feed: Feed, archive: Archive) {
    this.#feed = feed;
    this.#archive = archive;
  }

  async build(start: string): Promise<RawMesh> {
    const part = await this.#part(start);
    for (const item of part.items.length > 0 ? part.items : topObjects(part))
      await this.#place(item, start, BUILD);
    return { ...placeAll(this.#feed, this.#placed), unit: part.unit };
  }

  async #part(path: string): Promise<ModelPart> {
    const known = this.#parts.get(path);
    if (known) return known;
    if (!this.#archive.has(path))
      throw malformed(this.#feed, { is: 'archive-lacks', path: path.slice(0, 80) });
    const part = await readModelPart(this.#feed, this.#archive.pieces(path));
    this.#parts.set(path, part);
    return part;
  }

  /** Places an object and, through its components, all it is made of. A part in another unit is scaled. */
  async #place(reference: Reference, from: string, outer: Outer): Promise<void> {
    // Also how an object that is made of itself ends.
    if (outer.depth > LIMITS.nesting) throw tooMany(this.#feed, 'levels');
    checkBodyCount(this.#feed, ++this.#visits);
    const path = reference.path ?? from;
    const part = await this.#part(path);
    const object = part.objects.get(reference.objectId);
    if (!object) throw malformed(this.#feed, { is: 'object-missing', id: reference.objectId.slice(0, 20) });
    const ratio = path === from ? 1 : unitRatio(part.unit, (await this.#part(from)).unit);
    const own = ratio === 1 ? reference.at : compose(scaling(ratio), reference.at);
    const at = compose(own, outer.at);
    const name = object.name || outer.name;
    if (object.mesh) this.#placed.push({ name, mesh: object.mesh, at });
    const inner = { at, name, depth: outer.depth + 1 };
    for (const component of object.components) await this.#place(component, path, inner);
  }
}

/** References to the objects that are no component of another in their part. */
function topObjects({ objects }: ModelPart): Reference[] {
  const used = new Set(
    [...objects.values()].flatMap(({ components }) => components.map(({ objectId }) => objectId)),
  );
  return [...objects.keys()]
    .filter((id) => !used.has(id))
    .map((objectId) => ({ objectId, path: null, at: IDENTITY }));
}
