import type { FormatName } from '../errors/file-fault.ts';
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
  /** What refusals tell it by. */
  name: FormatName;
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
  { id: '3mf', name: '3mf', matches: isZip, read: readThreeMf },
  { id: 'glb', name: 'glb', matches: isGlb, read: readGltf },
  { id: 'stl', name: 'stl-binary', matches: isBinaryStl, read: readStlBinary },
  { id: 'stl', name: 'stl-text', matches: isTextStl, read: readStlText },
  { id: 'ply', name: 'ply', matches: isPly, read: readPly },
  { id: 'off', name: 'off', matches: isOff, read: readOff },
  { id: 'gltf', name: 'gltf', matches: isGltf, read: readGltf },
  { id: 'obj', name: 'obj', matches: isObj, read: readObj },
];
