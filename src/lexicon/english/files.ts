import type {
  FileFault,
  FileFeature,
  FileUnit,
  ForeignKind,
  FormatName,
  SystemFault,
  Trouble,
} from '../../errors/file-fault.ts';
import { fileFaults } from './file-faults.ts';

/** What files are and hold, and what the system has against them. */

export const formatNames: Record<FormatName, string> = {
  '3mf': '3MF',
  glb: 'GLB',
  gltf: 'glTF',
  obj: 'OBJ',
  off: 'OFF',
  ply: 'PLY',
  'stl-binary': 'binary STL',
  'stl-text': 'text STL',
  svg: 'SVG',
};

export const foreignKinds: Record<ForeignKind, string> = {
  png: 'a PNG picture',
  jpeg: 'a JPEG picture',
  gif: 'a GIF picture',
  webp: 'a WebP picture',
  tiff: 'a TIFF picture',
  bitmap: 'a bitmap picture',
  pdf: 'a PDF document',
  zip: 'a ZIP archive',
  '7z': 'a 7z archive',
  rar: 'a RAR archive',
  xz: 'an XZ archive',
  bzip2: 'a bzip2 archive',
  gzip: 'a gzip archive',
  film: 'a film',
  program: 'a program',
  'web-page': 'a web page',
  xml: 'an XML document',
};

const UNITS: Record<FileUnit, string> = {
  bytes: 'bytes',
  'buffer-bytes': 'bytes in a buffer',
  'view-bytes': 'bytes in a buffer view',
  triangles: 'triangles',
  vertices: 'vertices',
  faces: 'faces',
  header: 'header',
  tags: 'tags',
  'closing-tags': 'closing tags',
  lines: 'whole lines',
  items: 'items',
  'item-lines': 'lines',
};

/** What is counted, of a PLY element if one is named. */
export const fileUnit = (unit: FileUnit, of?: string): string =>
  of === undefined ? UNITS[unit] : `${of} ${UNITS[unit]}`;

export function fileFeature(feature: FileFeature): string {
  switch (feature.is) {
    case 'extension':
      return `the extension ${feature.name}`;
    case 'version':
      return `version ${feature.version} of its format`;
    case 'document-type':
      return 'a document type definition';
    case 'password':
      return 'a password';
    case 'packing':
      return 'a packing other than Deflate';
    case 'data-uri':
      return 'a buffer in a data URI that is not base64';
  }
}

export const fileFault = (fault: FileFault): string =>
  (fileFaults[fault.is] as (f: FileFault) => string)(fault);

const CHECK_NAME = 'check its name and folder';
const ASK_RIGHTS = 'ask for the right to, or choose another place';
const MAKE_ROOM = 'make room, or choose another place';
const CHOOSE = 'choose another place';
const CLOSE = 'close what has it open and try again';
const DEVICE = 'check the disk or the connection and try again';

/** Why, and what to do about it. */
const TROUBLES: Record<SystemFault, readonly [why: string, advice: string]> = {
  'no-such-file': ['there is no such file', CHECK_NAME],
  'no-such-folder': ['there is no such folder, and none can be made there', CHOOSE],
  'no-file': ['it is not a file', 'check its name and that you may open it'],
  'not-allowed': ['that is not allowed', ASK_RIGHTS],
  'read-only': ['the disk can only be read', CHOOSE],
  'disk-full': ['the disk is full', MAKE_ROOM],
  'share-full': ['your share of the disk is full', MAKE_ROOM],
  'too-large': ['it would be larger than the system takes', 'choose another disk'],
  'name-taken': ['something else has that name', CHOOSE],
  'file-for-folder': ['a file stands where a folder should be', CHECK_NAME],
  'is-folder': ['it is a folder', 'name a file'],
  'folder-in-place': ['a folder has that name', CHOOSE],
  'name-too-long': ['the name is too long', 'choose a shorter one'],
  'links-in-ring': ['links there lead round in a ring', CHECK_NAME],
  'too-many-open': ['too many files are open', CLOSE],
  'in-use': ['something else is using it', CLOSE],
  'device-failed': ['the device failed', DEVICE],
  'connection-lost': ['the connection to it was lost', DEVICE],
  'not-taken': ['the system takes no such file there', CHOOSE],
  'two-disks': ['it lies across two disks', CHOOSE],
};

/** Why the system refused, in brackets, and what to do; `otherwise` where it is something rarer. */
export function troubleWith(trouble: Trouble, otherwise: string): string {
  const [why, advice] = trouble.is === 'said' ? [trouble.words, otherwise] : TROUBLES[trouble.is];
  return `(${why}); ${advice}`;
}
