/** Renderers that draw by the processor, as browsers name them. */
const IN_SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;

let known: boolean | undefined;

/**
 * True where there is no graphics card to draw with, or the browser may not use it: every pixel is the processor's work
 * then, and smoothing edges would take it four times over.
 */
export function drawsInSoftware(): boolean {
  known ??= IN_SOFTWARE.test(rendererName());
  return known;
}

/** What draws, as the browser names it; nothing where it does not tell. */
function rendererName(): string {
  const gl = document.createElement('canvas').getContext('webgl2');
  if (gl === null) return '';
  const told = gl.getExtension('WEBGL_debug_renderer_info');
  const name = told ? gl.getParameter(told.UNMASKED_RENDERER_WEBGL) : gl.getParameter(gl.RENDERER);
  gl.getExtension('WEBGL_lose_context')?.loseContext();
  return String(name);
}
