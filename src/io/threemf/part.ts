import { MM_PER_UNIT, type Unit } from '../../model/units.ts';
import { type Affine, IDENTITY } from '../build/affine.ts';
import { type Feed, malformed, unknownFeature } from '../bytes/feed.ts';
import { growingF64, growingU32 } from '../bytes/growing.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';
import type { XmlScanner } from '../xml/scanner.ts';
import { keyword, walkXml } from '../xml/walk.ts';
import { partName } from './package-part.ts';

/** An object put somewhere: by the build, or as a component of another object. */
export interface Reference {
  objectId: string;
  /** Model part that has the object; null for the same part. */
  path: string | null;
  at: Affine;
}

export interface ModelObject {
  name: string | null;
  mesh: RawMesh | null;
  components: Reference[];
}

/** What one model part holds of the figure. */
export interface ModelPart {
  unit: Unit;
  objects: Map<string, ModelObject>;
  items: Reference[];
}

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02';
const PRODUCTION = 'http://schemas.microsoft.com/3dmanufacturing/production/2015/06';
/** Extensions that a model may require: they add nothing to the shape, or are read. */
const UNDERSTOOD: readonly string[] = [
  CORE,
  PRODUCTION,
  'http://schemas.microsoft.com/3dmanufacturing/material/2015/02',
  'http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07',
];

/** The unit names of 3MF Core Specification 1.4.0, §3.4. */
const UNIT_NAMES: Readonly<Record<string, Unit>> = {
  micron: 'micron',
  millimeter: 'mm',
  centimeter: 'cm',
  inch: 'inch',
  foot: 'foot',
  meter: 'm',
};

const [MODEL, OBJECT, MESH, VERTEX, TRIANGLE, COMPONENT, ITEM] = [
  'model',
  'object',
  'mesh',
  'vertex',
  'triangle',
  'component',
  'item',
].map(keyword);
const [X, Y, Z, V1, V2, V3] = ['x', 'y', 'z', 'v1', 'v2', 'v3'].map(keyword);
const [ID, NAME, OBJECT_ID, TRANSFORM, PATH, UNIT, REQUIRED] = [
  'id',
  'name',
  'objectid',
  'transform',
  'path',
  'unit',
  'requiredextensions',
].map(keyword);

/**
 * Reads a model part: meshes, components and build items (3MF Core Specification 1.4.0, §§3–4; the paths of the
 * production extension). Properties, metadata and what else extensions add are passed over.
 */
export async function readModelPart(feed: Feed, pieces: AsyncIterable<Uint8Array>): Promise<ModelPart> {
  const visitor = new ModelVisitor(feed);
  await walkXml(feed, pieces, visitor);
  if (!visitor.isModel) throw malformed(feed, { is: 'model-missing' });
  return visitor.part;
}

class ModelVisitor {
  isModel = false;
  readonly part: ModelPart = { unit: 'mm', objects: new Map(), items: [] };
  readonly #feed: Feed;
  #object: ModelObject | null = null;
  #isMesh = false;
  #positions = growingF64(0);
  #corners = growingU32(0);
  #lastVertex = -1;

  constructor(feed: Feed) {
    this.#feed = feed;
  }

  open(tag: XmlScanner): void {
    if (tag.depth === 1) this.#takeModel(tag);
    else if (tag.uri !== CORE) return;
    else if (this.#isMesh && tag.isNamed(VERTEX)) this.#takeVertex(tag);
    else if (this.#isMesh && tag.isNamed(TRIANGLE)) this.#takeTriangle(tag);
    else if (tag.isNamed(OBJECT)) this.#takeObject(tag);
    else if (tag.isNamed(MESH)) this.#startMesh();
    else if (tag.isNamed(COMPONENT)) this.#object?.components.push(this.#referenceOf(tag));
    else if (tag.isNamed(ITEM)) this.part.items.push(this.#referenceOf(tag));
  }

  close(tag: XmlScanner): void {
    if (this.#isMesh && tag.isNamed(MESH)) this.#endMesh();
  }

  #takeModel(tag: XmlScanner): void {
    this.isModel = tag.isNamed(MODEL) && tag.uri === CORE;
    if (!this.isModel) throw malformed(this.#feed, { is: 'model-missing' });
    const unit = tag.text(UNIT) ?? 'millimeter';
    if (!Object.hasOwn(UNIT_NAMES, unit)) throw malformed(this.#feed, { is: 'unit-unknown' });
    this.part.unit = UNIT_NAMES[unit];
    for (const prefix of tag.text(REQUIRED)?.match(/\S+/g) ?? []) {
      const uri = tag.uriOf(prefix);
      if (!UNDERSTOOD.includes(uri))
        throw unknownFeature(this.#feed, { is: 'extension', name: (uri || prefix).slice(0, 106) });
    }
  }

  #takeObject(tag: XmlScanner): void {
    const id = tag.text(ID);
    if (id === null) throw malformed(this.#feed, { is: 'object-without-id' });
    if (this.part.objects.has(id)) throw malformed(this.#feed, { is: 'object-id-shared' });
    this.#object = { name: tag.text(NAME), mesh: null, components: [] };
    this.part.objects.set(id, this.#object);
  }

  #startMesh(): void {
    if (this.#object === null || this.#object.mesh !== null)
      throw malformed(this.#feed, { is: 'mesh-astray' });
    this.#isMesh = true;
    this.#positions = growingF64(ROOM);
    this.#corners = growingU32(ROOM);
    this.#lastVertex = -1;
  }

  #takeVertex(tag: XmlScanner): void {
    const x = tag.number(X);
    const y = tag.number(Y);
    const z = tag.number(Z);
    if (Number.isNaN(x + y + z)) throw malformed(this.#feed, { is: 'vertex-incomplete' });
    this.#positions.push3(x, y, z);
  }

  #takeTriangle(tag: XmlScanner): void {
    const a = tag.number(V1);
    const b = tag.number(V2);
    const c = tag.number(V3);
    const last = Math.max(a, b, c);
    if (
      !(
        Number.isInteger(a) &&
        Number.isInteger(b) &&
        Number.isInteger(c) &&
        Math.min(a, b, c) >= 0 &&
        last < 2 ** 32
      )
    ) {
      throw malformed(this.#feed, { is: 'triangle-incomplete' });
    }
    if (last > this.#lastVertex) this.#lastVertex = last;
    this.#corners.push3(a, b, c);
    checkTriangleCount(this.#feed, this.#corners.length / 3);
  }

  #endMesh(): void {
    this.#isMesh = false;
    if (this.#lastVertex >= this.#positions.length / 3)
      throw malformed(this.#feed, { is: 'vertex-missing', vertex: this.#lastVertex });
    if (this.#object)
      this.#object.mesh = { positions: this.#positions.take(), triangles: this.#corners.take() };
  }

  #referenceOf(tag: XmlScanner): Reference {
    const objectId = tag.text(OBJECT_ID);
    if (objectId === null) throw malformed(this.#feed, { is: 'reference-empty' });
    const path = tag.textIn(PRODUCTION, PATH);
    return { objectId, path: path === null ? null : partName(path), at: this.#affineOf(tag.text(TRANSFORM)) };
  }

  #affineOf(text: string | null): Affine {
    if (text === null) return IDENTITY;
    const numbers = text.trim().split(/\s+/).map(Number);
    if (numbers.length === 12 && numbers.every(Number.isFinite)) return numbers;
    throw malformed(this.#feed, { is: 'transform-incomplete' });
  }
}

/** First room of a mesh's arrays: many objects of a file are small. */
const ROOM = 1024;

/** Millimetres of one part's units in another's. */
export const unitRatio = (of: Unit, within: Unit): number => MM_PER_UNIT[of] / MM_PER_UNIT[within];
