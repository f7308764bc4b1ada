import { triangulatePolygon } from '../../mesh/polygon/triangulate-polygon.ts';
import { type Feed, malformed } from '../bytes/feed.ts';
import { growingU32 } from '../bytes/growing.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { IO_TUNING } from '../tuning.ts';

/**
 * Faces as a reader meets them: corners in a row, with a note of those faces that are no triangles.
 * They are divided at the end, when every vertex is known.
 */
export class FaceList {
  /** Triangles that all closed faces make together. */
  triangleCount = 0;
  readonly #corners = growingU32();
  /** Pairs: place of a polygon's first corner, its corner count. */
  readonly #polygons = growingU32(64);
  #start = 0;
  readonly #feed: Feed;

  constructor(feed: Feed) {
    this.#feed = feed;
  }

  /** Adds a corner, a vertex index the caller has checked, to the open face. */
  corner(vertex: number): void {
    this.#corners.push(vertex);
  }

  /**
   * Closes the open face. One of fewer than three corners covers nothing and is forgotten.
   * @throws PegwrightError `file-malformed` for a face of more corners than any figure has.
   */
  close(): void {
    const count = this.#corners.length - this.#start;
    if (count < 3) this.#corners.length = this.#start;
    else this.triangleCount += count - 2;
    if (count > IO_TUNING.faceCorners) throw malformed(this.#feed, { is: 'face-too-large', corners: count });
    if (count > 3) {
      this.#polygons.push(this.#start);
      this.#polygons.push(count);
    }
    this.#start = this.#corners.length;
  }

  triangle(a: number, b: number, c: number): void {
    this.#corners.push3(a, b, c);
    this.#start = this.#corners.length;
    this.triangleCount++;
  }

  /** Divides every polygon into triangles in the face's own turn; faces keep their order. */
  finish(positions: RawMesh['positions']): RawMesh {
    const corners = this.#corners.take();
    if (this.#polygons.length === 0) return { positions, triangles: corners };
    const polygons = this.#polygons.take();
    const triangles = new Uint32Array(this.triangleCount * 3);
    let src = 0;
    let dst = 0;
    const copyTriangles = (end: number) => {
      triangles.set(corners.subarray(src, end), dst);
      dst += end - src;
    };
    for (let i = 0; i < polygons.length; i += 2) {
      copyTriangles(polygons[i]);
      src = polygons[i] + polygons[i + 1];
      triangulatePolygon(positions, corners.subarray(polygons[i], src), triangles, dst);
      dst += (polygons[i + 1] - 2) * 3;
    }
    copyTriangles(corners.length);
    return { positions, triangles };
  }
}
