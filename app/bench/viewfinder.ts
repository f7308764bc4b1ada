import { type Camera, Vector2, Vector3 } from 'three';
import type { Vec3 } from '../../src/index.ts';
import type { Ray } from '../tools/seam-tool.ts';
import type { PointerPlace } from '../ui/pointer-place.ts';

/** Something of the page that follows a point of the scene: a handle, a mark. Scene coordinates. */
export interface Anchor {
  point: Vec3;
  /** Turns the element so that its up points along the projection of this direction. */
  along?: Vec3;
}

const NEAR_CLIP = -1;
const FAR_CLIP = 1;

/**
 * What the page outside the scene needs of its camera: where points fall on the screen, what ray
 * a pointer casts, and elements that follow points. Placed elements are moved by hand after each
 * rendered frame, so that following costs no React rendering.
 */
export class Viewfinder {
  private camera: Camera | null = null;
  private canvas: HTMLCanvasElement | null = null;
  private redraw: () => void = () => undefined;
  private edgeUnder: (x: number, y: number) => Vec3 | null = () => null;
  private readonly followers = new Map<HTMLElement, Anchor>();
  /** What each element was last given, so that the page is not laid out anew for those that stay. */
  private readonly placed = new WeakMap<HTMLElement, string>();
  /** The canvas in the window, CSS px: asking at every move of a hand where it is would lay the page out twice. */
  private box: DOMRect = new DOMRect();

  /** `edgeUnder` finds the figure's outline or a crease near a place of the canvas, see `pickEdge`. @returns what ends it. */
  connect(
    camera: Camera,
    canvas: HTMLCanvasElement,
    redraw: () => void,
    edgeUnder: (x: number, y: number) => Vec3 | null,
  ): () => void {
    this.edgeUnder = edgeUnder;
    this.camera = camera;
    this.canvas = canvas;
    this.redraw = redraw;
    const measure = () => {
      this.measure();
      redraw();
    };
    const observer = new ResizeObserver(measure);
    observer.observe(canvas);
    window.addEventListener('resize', measure);
    return () => {
      observer.disconnect();
      window.removeEventListener('resize', measure);
    };
  }

  private measure(): void {
    this.box = this.canvas?.getBoundingClientRect() ?? this.box;
  }

  /** Keeps `element` over the anchor until it is let go, or follows another one. */
  follow(element: HTMLElement, anchor: Anchor): void {
    this.followers.set(element, anchor);
    this.redraw();
  }

  letGo(element: HTMLElement): void {
    this.followers.delete(element);
  }

  /** Line of sight through where an event of the pointer was. Scene coordinates. */
  ray({ type, clientX, clientY }: PointerPlace): Ray | null {
    if (this.camera === null || this.canvas === null) return null;
    if (type !== 'pointermove') this.measure();
    const { box } = this;
    const at = new Vector2(
      ((clientX - box.left) / box.width) * 2 - 1,
      1 - ((clientY - box.top) / box.height) * 2,
    );
    const from = new Vector3(at.x, at.y, NEAR_CLIP).unproject(this.camera);
    const to = new Vector3(at.x, at.y, FAR_CLIP).unproject(this.camera).sub(from).normalize();
    return { origin: [from.x, from.y, from.z], direction: [to.x, to.y, to.z] };
  }

  /** The figure's outline, or a crease of it, near where an event of the pointer was; null where there is none. Scene coordinates. */
  edgeNear({ clientX, clientY }: PointerPlace): Vec3 | null {
    if (this.camera === null) return null;
    this.measure();
    return this.edgeUnder(clientX - this.box.left, clientY - this.box.top);
  }

  /** Moves every follower to where its point now falls; `data-x`, `data-y` tell the place in the window, CSS px. */
  place(): void {
    const { camera, box } = this;
    if (camera === null) return;
    camera.updateMatrixWorld();
    for (const [element, anchor] of this.followers) {
      const at = this.project(anchor.point, box);
      const turn = at && anchor.along ? this.turn(anchor.point, anchor.along, at, box) : null;
      const told = `${at} ${turn} ${box.left} ${box.top}`;
      if (this.placed.get(element) === told) continue;
      this.placed.set(element, told);
      if (at === null) {
        element.style.visibility = 'hidden';
        continue;
      }
      const [x, y] = at;
      element.style.visibility = 'visible';
      element.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
      element.dataset.x = (box.left + x).toFixed(1);
      element.dataset.y = (box.top + y).toFixed(1);
      if (turn !== null) element.style.setProperty('--turn', `${turn}rad`);
    }
  }

  /** Where a point of the scene falls in the canvas, CSS px; null behind the camera. */
  private project(p: Vec3, box: DOMRect): [number, number] | null {
    const seen = new Vector3(p[0], p[1], p[2]).project(this.camera!);
    if (seen.z > FAR_CLIP) return null;
    return [((seen.x + 1) / 2) * box.width, ((1 - seen.y) / 2) * box.height];
  }

  /** Angle that turns an upward arrow to point along the projection of `along`. */
  private turn(p: Vec3, along: Vec3, from: [number, number], box: DOMRect): number {
    const to = this.project([p[0] + along[0], p[1] + along[1], p[2] + along[2]], box);
    if (to === null) return 0;
    return Math.round(Math.atan2(to[0] - from[0], from[1] - to[1]) * 1000) / 1000;
  }
}
