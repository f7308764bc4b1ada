import {
  type Camera,
  DoubleSide,
  FloatType,
  type PerspectiveCamera,
  type Scene,
  ShaderMaterial,
  Vector2,
  Vector3,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import type { Vec3 } from '../../src/index.ts';
import { snapIn } from '../tools/snap.ts';
import { FIGURE_LAYER } from './layers.ts';

const WRITE_PLACE = {
  vertexShader:
    'varying vec3 at; void main() { vec4 w = modelMatrix * vec4(position, 1.0); at = w.xyz; gl_Position = projectionMatrix * viewMatrix * w; }',
  fragmentShader: 'varying vec3 at; void main() { gl_FragColor = vec4(at, 1.0); }',
  side: DoubleSide,
};

/**
 * The point of the figure under a place of the canvas (CSS px), scene coordinates; null beside it.
 * The graphics card finds it: one pixel of the figure is drawn with places for colours and read
 * back, so that the time does not grow with the mesh on the main thread.
 */
export function pickPoint(
  gl: WebGLRenderer,
  scene: Scene,
  camera: Camera,
  x: number,
  y: number,
): Vec3 | null {
  const [px, py, pz, isSeen] = placesAround(gl, scene, camera, x, y, 0);
  return isSeen! > 0 ? [px!, py!, pz!] : null;
}

/** How far a place is drawn to an outline or a crease, CSS px. */
const SNAP_PX = 10;

/** The point of the figure's outline, or of a crease of it, near a place of the canvas (CSS px); null where there is none. */
export function pickEdge(gl: WebGLRenderer, scene: Scene, camera: Camera, x: number, y: number): Vec3 | null {
  const places = placesAround(gl, scene, camera, x, y, SNAP_PX);
  const lens = camera as PerspectiveCamera;
  const any = places.findIndex((_, i) => i % 4 === 3 && places[i]! > 0);
  if (any < 0) return null;
  const away = lens.position.distanceTo(new Vector3(places[any - 3]!, places[any - 2]!, places[any - 1]!));
  const pixelMm = (2 * away * Math.tan((lens.fov * Math.PI) / 360)) / gl.getSize(new Vector2()).y;
  return snapIn({ size: 2 * SNAP_PX + 1, places, pixelMm });
}

/** Places of the figure in the pixels up to `reach` about one (CSS px): x, y, z and 1 each, 0 where it is not. */
function placesAround(
  gl: WebGLRenderer,
  scene: Scene,
  camera: Camera,
  x: number,
  y: number,
  reach: number,
): Float32Array {
  const eye = (camera as PerspectiveCamera).clone();
  const canvas = gl.getSize(new Vector2());
  const size = 2 * reach + 1;
  eye.setViewOffset(canvas.x, canvas.y, x - reach, y - reach, size, size);
  eye.layers.set(FIGURE_LAYER);
  const target = new WebGLRenderTarget(size, size, { type: FloatType });
  const material = new ShaderMaterial(WRITE_PLACE);
  const pixels = new Float32Array(4 * size * size);
  const clearAlpha = gl.getClearAlpha();
  try {
    scene.overrideMaterial = material;
    gl.setRenderTarget(target);
    gl.setClearAlpha(0);
    gl.clear();
    gl.render(scene, eye);
    gl.readRenderTargetPixels(target, 0, 0, size, size, pixels);
  } finally {
    gl.setClearAlpha(clearAlpha);
    scene.overrideMaterial = null;
    gl.setRenderTarget(null);
    material.dispose();
    target.dispose();
  }
  return pixels;
}
