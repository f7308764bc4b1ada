import { BackSide, Color, MeshBasicMaterial, MeshLambertMaterial, type Plane, Vector4 } from 'three';

/** What a clay material can be told after it is made; each value is read again at every frame. */
export interface ClayUniforms {
  /** Scene plane (normal, −offset) that divides the two tones; all zero for one tone. */
  seam: { value: Vector4 };
  front: { value: Color };
  back: { value: Color };
  line: { value: Color };
}

export interface Clay {
  material: MeshLambertMaterial;
  uniforms: ClayUniforms;
}

/** Half the width of the seam's line, in screen pixels. */
const SEAM_LINE_PX = 1.1;

const VERTEX_HEAD = 'varying vec3 vClayAt;\n#include <common>';
const VERTEX_BODY = '#include <begin_vertex>\nvClayAt = position;';
const FRAGMENT_HEAD = `varying vec3 vClayAt;
uniform vec4 seam; uniform vec3 front; uniform vec3 back; uniform vec3 line;
#include <common>`;
/** Two tones either side of the plane, with the seam drawn between them at a constant width on the screen. */
const FRAGMENT_TONE = `#include <color_fragment>
if (dot(seam.xyz, seam.xyz) > 0.5) {
  float away = dot(seam.xyz, vClayAt) + seam.w;
  float px = max(fwidth(away), 1e-6);
  diffuseColor.rgb = mix(back, front, smoothstep(-px, px, away));
  diffuseColor.rgb = mix(line, diffuseColor.rgb, smoothstep(${SEAM_LINE_PX.toFixed(1)} * px, ${(SEAM_LINE_PX + 1).toFixed(1)} * px, abs(away)));
}`;
/** Matte clay: light only, triangle by triangle where it is flat. `clip` planes cut it away. */
export function createClay(clip: Plane[], isFlat: boolean): Clay {
  const material = new MeshLambertMaterial({ clippingPlanes: clip, flatShading: isFlat });
  const uniforms: ClayUniforms = {
    seam: { value: new Vector4() },
    front: { value: new Color() },
    back: { value: new Color() },
    line: { value: new Color() },
  };
  material.onBeforeCompile = (shader) => {
    Object.assign(shader.uniforms, uniforms);
    shader.vertexShader = shader.vertexShader
      .replace('#include <common>', VERTEX_HEAD)
      .replace('#include <begin_vertex>', VERTEX_BODY);
    shader.fragmentShader = shader.fragmentShader
      .replace('#include <common>', FRAGMENT_HEAD)
      .replace('#include <color_fragment>', FRAGMENT_TONE);
  };
  material.customProgramCacheKey = () => 'clay';
  return { material, uniforms };
}

/** How dark the inside is against the clay. */
const INSIDE_SHADE = 0.62;

/**
 * The inner sides of a clipped solid in one flat tone, so that it looks filled. Where the faces of two
 * parts lie on one another the inside is drawn in front, as solid clay would hide the face beyond it.
 */
export const createInside = (clip: Plane[], color: string): MeshBasicMaterial =>
  new MeshBasicMaterial({
    color: new Color(color).multiplyScalar(INSIDE_SHADE),
    side: BackSide,
    clippingPlanes: clip,
    polygonOffset: true,
    polygonOffsetFactor: -2,
    polygonOffsetUnits: -2,
  });
