import { FaceList } from '../build/face-list.ts';
import { type Feed, malformed } from '../bytes/feed.ts';
import { growingF32, growingF64 } from '../bytes/growing.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';
import { IO_TUNING } from '../tuning.ts';
import type { PlyElement, PlyHeader, PlyProperty } from './header.ts';

/** What a property's values are to us. */
export type Role = 'x' | 'y' | 'z' | 'corners' | 'strip' | 'unused';

export function roleOf(element: PlyElement, property: PlyProperty): Role {
  const { name, length } = property;
  const isIndexList = length !== null && (name === 'vertex_indices' || name === 'vertex_index');
  if (element.name === 'vertex' && (name === 'x' || name === 'y' || name === 'z')) return name;
  if (element.name === 'face' && isIndexList) return 'corners';
  if (element.name === 'tristrips' && isIndexList) return 'strip';
  return 'unused';
}

/** Gathers vertices and faces from either encoding of PLY. */
export class PlySink {
  readonly positions;
  readonly #faces: FaceList;
  readonly #vertices: number;
  readonly #feed: Feed;
  /** Corners of the strip so far; a negative index starts a new one. */
  #strip: number[] = [];

  constructor(feed: Feed, { elements }: PlyHeader) {
    const vertex = elements.find(({ name }) => name === 'vertex');
    const coordinates = vertex?.properties.filter(({ name }) => /^[xyz]$/.test(name)) ?? [];
    this.#feed = feed;
    this.#faces = new FaceList(feed);
    this.#vertices = vertex?.count ?? 0;
    this.positions = coordinates.every(({ value }) => value.isSingle) ? growingF32() : growingF64();
  }

  /** Refuses a list length that is no count or beyond belief. */
  checkLength(length: number, line?: number): void {
    if (Number.isInteger(length) && length >= 0 && length <= IO_TUNING.faceCorners) return;
    throw malformed(this.#feed, { is: 'list-too-long', entries: length }, line);
  }

  corner(index: number, line?: number): void {
    if (!(Number.isInteger(index) && index >= 0 && index < this.#vertices)) {
      throw malformed(this.#feed, { is: 'vertex-missing', vertex: index }, line);
    }
    this.#faces.corner(index);
  }

  endFace(): void {
    this.#faces.close();
  }

  /** One index of a triangle strip: every second triangle turns the other way in its listing. */
  stripCorner(index: number, line?: number): void {
    if (index < 0) {
      this.#strip = [];
      return;
    }
    this.#strip.push(index);
    const at = this.#strip.length;
    if (at < 3) return;
    const [a, b] = at % 2 === 1 ? [at - 3, at - 2] : [at - 2, at - 3];
    for (const k of [a, b, at - 1]) this.corner(this.#strip[k], line);
    this.endFace();
  }

  endStrip(): void {
    this.#strip = [];
  }

  checkCount(): void {
    checkTriangleCount(this.#feed, this.#faces.triangleCount);
  }

  finish(): RawMesh {
    return this.#faces.finish(this.positions.take());
  }
}
