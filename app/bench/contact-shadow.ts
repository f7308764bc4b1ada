import { OrthographicCamera, type Scene, ShaderMaterial, type WebGLRenderer, WebGLRenderTarget } from 'three';
import { FIGURE_LAYER } from './layers.ts';
import type { Ball } from './scene-space.ts';

const MAP_PX = 256;
/** The shadow's sheet, and the height at which a part no longer darkens the bed; shares of the figure's radius. */
const SHEET_SHARE = 1.7;
const REACH_SHARE = 0.75;
const DARKEST = 0.5;

const NEARNESS = {
  vertexShader: `uniform float bed; uniform float reach; varying float near;
void main() {
  vec4 at = modelMatrix * vec4(position, 1.0);
  near = 1.0 - clamp((at.z - bed) / reach, 0.0, 1.0);
  gl_Position = projectionMatrix * viewMatrix * at;
}`,
  fragmentShader: 'varying float near; void main() { gl_FragColor = vec4(near * near); }',
};

/** Taps on a sunflower spiral soften the map; what is nearer the rim of the sheet fades out. */
const SOFTENED = {
  vertexShader: `varying vec2 at;
void main() { at = uv; gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }`,
  fragmentShader: `uniform sampler2D map; varying vec2 at;
void main() {
  float dark = 0.0;
  for (int i = 0; i < 28; i++) {
    float r = 0.045 * sqrt((float(i) + 0.5) / 28.0);
    float a = 2.399963 * float(i);
    dark += texture2D(map, vec2(1.0 - at.x, at.y) + r * vec2(cos(a), sin(a))).r;
  }
  float rim = 1.0 - smoothstep(0.8, 1.0, length(at * 2.0 - 1.0));
  gl_FragColor = vec4(0.0, 0.0, 0.0, ${DARKEST.toFixed(2)} * rim * dark / 28.0);
}`,
};

/**
 * The soft shadow a figure throws on the bed beneath it: the figure seen from below, as nearness
 * to the bed, drawn once per change into a small map and softened where it is shown. One serves
 * figure after figure, so that its shaders are built once.
 */
export function createContactShadow() {
  const target = new WebGLRenderTarget(MAP_PX, MAP_PX);
  const writing = new ShaderMaterial({ ...NEARNESS, uniforms: { bed: { value: 0 }, reach: { value: 1 } } });
  const material = new ShaderMaterial({
    ...SOFTENED,
    uniforms: { map: { value: target.texture } },
    transparent: true,
    depthWrite: false,
  });
  const eye = new OrthographicCamera();
  eye.up.set(0, 1, 0);
  eye.layers.set(FIGURE_LAYER);
  return {
    material,
    draw(gl: WebGLRenderer, scene: Scene, figure: Ball, bedZ: number): void {
      aim(eye, figure, bedZ);
      writing.uniforms.bed.value = bedZ;
      writing.uniforms.reach.value = figure.radius * REACH_SHARE;
      scene.overrideMaterial = writing;
      gl.setRenderTarget(target);
      gl.clear();
      gl.render(scene, eye);
      gl.setRenderTarget(null);
      scene.overrideMaterial = null;
    },
    dispose(): void {
      target.dispose();
      writing.dispose();
      material.dispose();
    },
  };
}

/** Half the side of the square sheet that shows a figure's shadow, mm. */
export const sheetHalf = (figure: Ball): number => figure.radius * SHEET_SHARE;

/** From below and upwards, with Y up: what is seen is mirrored in X, which the sheet undoes. */
function aim(eye: OrthographicCamera, figure: Ball, bedZ: number): void {
  const half = sheetHalf(figure);
  const [x, y] = figure.centre;
  Object.assign(eye, { left: -half, right: half, top: half, bottom: -half, near: 0, far: figure.radius * 4 });
  eye.position.set(x, y, bedZ - figure.radius * 0.01);
  eye.lookAt(x, y, bedZ + 1);
  eye.updateProjectionMatrix();
  eye.updateMatrixWorld();
}
