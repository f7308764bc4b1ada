import type { Feed } from './bytes/feed.ts';
import { isGlb, isGltf } from './gltf/head.ts';
import { isObj, readObj } from './obj/read.ts';
import { isOff, readOff } from './off/read.ts';
import { isPly, readPly } from './ply/read.ts';
import type { RawMesh } from './raw-mesh.ts';
import { isBinaryStl, readStlBinary } from './stl/read.ts';
import { isTextStl, readStlText } from './stl/read-text.ts';
import { isZip } from './zip/head.ts';

export type FormatId = 'stl' | 'obj' | 'ply' | 'off' | '3mf' | 'gltf' | 'glb';

/** One way a mesh can be written down. */
export interface Format {
  id: FormatId;
  /** How messages call it. */
  label: string;
  /**
   * Judges by content.
   * @param head the file's first bytes, all of a short file.
   * @param byteLength null where the length is not known.
   */
  matches(head: Uint8Array, byteLength: number | null): boolean;
  read(feed: Feed): Promise<RawMesh>;
}

/** Readers that bring libraries along are loaded when a file asks for them. */
const readThreeMf = async (feed: Feed) => (await import('./threemf/read.ts')).readThreeMf(feed);
const readGltf = async (feed: Feed) => (await import('./gltf/read.ts')).readGltf(feed);

/** Every format that can be opened; the first that matches reads the file. */
export const FORMATS: readonly Format[] = [
  { id: '3mf', label: '3MF', matches: isZip, read: readThreeMf },
  { id: 'glb', label: 'GLB', matches: isGlb, read: readGltf },
  { id: 'stl', label: 'binary STL', matches: isBinaryStl, read: readStlBinary },
  { id: 'stl', label: 'text STL', matches: isTextStl, read: readStlText },
  { id: 'ply', label: 'PLY', matches: isPly, read: readPly },
  { id: 'off', label: 'OFF', matches: isOff, read: readOff },
  { id: 'gltf', label: 'glTF', matches: isGltf, read: readGltf },
  { id: 'obj', label: 'OBJ', matches: isObj, read: readObj },
];
