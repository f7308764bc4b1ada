import {
  type Camera,
  DoubleSide,
  FloatType,
  type PerspectiveCamera,
  type Scene,
  ShaderMaterial,
  Vector2,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three';
import type { Vec3 } from '../../src/index.ts';
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
  const eye = (camera as PerspectiveCamera).clone();
  const size = gl.getSize(new Vector2());
  eye.setViewOffset(size.x, size.y, x, y, 1, 1);
  eye.layers.set(FIGURE_LAYER);
  const target = new WebGLRenderTarget(1, 1, { type: FloatType });
  const material = new ShaderMaterial(WRITE_PLACE);
  const pixel = new Float32Array(4);
  try {
    scene.overrideMaterial = material;
    gl.setRenderTarget(target);
    gl.clear();
    gl.render(scene, eye);
    gl.readRenderTargetPixels(target, 0, 0, 1, 1, pixel);
  } finally {
    scene.overrideMaterial = null;
    gl.setRenderTarget(null);
    material.dispose();
    target.dispose();
  }
  return pixel[3]! > 0 ? [pixel[0]!, pixel[1]!, pixel[2]!] : null;
}
