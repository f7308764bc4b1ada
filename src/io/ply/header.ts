import type { FileFault } from '../../errors/file-fault.ts';
import { type Feed, malformed } from '../bytes/feed.ts';

/** A number type of PLY: its bytes and how it is read. Under both the old names and those with sizes. */
export interface Scalar {
  bytes: number;
  isSingle: boolean;
  get(view: DataView, at: number, littleEndian: boolean): number;
}

const scalar = (bytes: number, get: Scalar['get'], isSingle = false): Scalar => ({ bytes, get, isSingle });
const INT8 = scalar(1, (view, at) => view.getInt8(at));
const UINT8 = scalar(1, (view, at) => view.getUint8(at));
const INT16 = scalar(2, (view, at, little) => view.getInt16(at, little));
const UINT16 = scalar(2, (view, at, little) => view.getUint16(at, little));
const INT32 = scalar(4, (view, at, little) => view.getInt32(at, little));
const UINT32 = scalar(4, (view, at, little) => view.getUint32(at, little));
const FLOAT32 = scalar(4, (view, at, little) => view.getFloat32(at, little), true);
const FLOAT64 = scalar(8, (view, at, little) => view.getFloat64(at, little));

const SCALARS: ReadonlyMap<string, Scalar> = new Map([
  ['char', INT8],
  ['int8', INT8],
  ['uchar', UINT8],
  ['uint8', UINT8],
  ['short', INT16],
  ['int16', INT16],
  ['ushort', UINT16],
  ['uint16', UINT16],
  ['int', INT32],
  ['int32', INT32],
  ['uint', UINT32],
  ['uint32', UINT32],
  ['float', FLOAT32],
  ['float32', FLOAT32],
  ['double', FLOAT64],
  ['float64', FLOAT64],
]);

export interface PlyProperty {
  name: string;
  value: Scalar;
  /** Type of a list's length; null for a single value. */
  length: Scalar | null;
}

export interface PlyElement {
  name: string;
  count: number;
  properties: PlyProperty[];
}

export type PlyEncoding = 'ascii' | 'binary_little_endian' | 'binary_big_endian';

export interface PlyHeader {
  encoding: PlyEncoding;
  elements: PlyElement[];
  /** Lines the header takes. */
  lines: number;
}

/**
 * The header's statements (Turk, *The PLY Polygon File Format*, 1994).
 * @param text from "ply" to the line end behind "end_header".
 */
export function parsePlyHeader(feed: Feed, text: string): PlyHeader {
  const lines = text.split(/\r\n|\n|\r/).slice(0, -1);
  const elements: PlyElement[] = [];
  let encoding: PlyEncoding | null = null;
  for (const [index, line] of lines.entries()) {
    const wrong = (fault: FileFault) => malformed(feed, fault, index + 1);
    const words = line.trim().split(/\s+/);
    if (words[0] === 'format') encoding = encodingOf(words[1], wrong);
    else if (words[0] === 'element') elements.push(elementOf(words, wrong));
    else if (words[0] === 'property') {
      const element = elements.at(-1);
      if (element === undefined) throw wrong({ is: 'property-early' });
      element.properties.push(propertyOf(words, wrong));
    }
  }
  if (encoding === null) throw malformed(feed, { is: 'encoding-missing' });
  return { encoding, elements, lines: lines.length };
}

type Wrong = (fault: FileFault) => Error;

function encodingOf(word: string | undefined, wrong: Wrong): PlyEncoding {
  if (word === 'ascii' || word === 'binary_little_endian' || word === 'binary_big_endian') return word;
  throw wrong({ is: 'encoding-unknown', word: word ?? '' });
}

function elementOf([, name, count]: string[], wrong: Wrong): PlyElement {
  if (name === undefined || !/^\d{1,15}$/.test(count ?? '')) throw wrong({ is: 'element-incomplete' });
  return { name, count: Number(count), properties: [] };
}

function propertyOf(words: string[], wrong: Wrong): PlyProperty {
  const isList = words[1] === 'list';
  const [valueType, name] = isList ? words.slice(3) : words.slice(1);
  const value = SCALARS.get(valueType ?? '');
  const length = isList ? SCALARS.get(words[2] ?? '') : null;
  if (value === undefined || length === undefined || name === undefined)
    throw wrong({ is: 'property-unknown' });
  return { name, value, length };
}
