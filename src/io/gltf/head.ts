import { textHead } from '../text/head.ts';

/** First word of a GLB file, "glTF" (Khronos glTF 2.0, §4.4.2). */
export const GLB_MAGIC = 0x46546c67;

export const isGlb = (head: Uint8Array): boolean =>
  head.length >= 4 && new DataView(head.buffer, head.byteOffset).getUint32(0, true) === GLB_MAGIC;

/** Text of a JSON object that has something of what every glTF has. */
export function isGltf(head: Uint8Array): boolean {
  const text = textHead(head) ?? '';
  return text.startsWith('{') && /"(asset|scenes?|nodes|meshes|accessors|buffers)"\s*:/.test(text);
}
