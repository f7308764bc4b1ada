/** Formats as readers are told apart: STL has two. */
export type FormatName = '3mf' | 'glb' | 'gltf' | 'obj' | 'off' | 'ply' | 'stl-binary' | 'stl-text' | 'svg';

/** What a file that is no mesh can be told to be by its first bytes. */
export type ForeignKind =
  | 'png'
  | 'jpeg'
  | 'gif'
  | 'webp'
  | 'tiff'
  | 'bitmap'
  | 'pdf'
  | 'zip'
  | '7z'
  | 'rar'
  | 'xz'
  | 'bzip2'
  | 'gzip'
  | 'film'
  | 'program'
  | 'web-page'
  | 'xml';

/** What a file promises more of than it holds; `items` and `item-lines` are of a PLY element. */
export type FileUnit =
  | 'bytes'
  | 'buffer-bytes'
  | 'view-bytes'
  | 'triangles'
  | 'vertices'
  | 'faces'
  | 'header'
  | 'tags'
  | 'closing-tags'
  | 'lines'
  | 'items'
  | 'item-lines';

/** Something sound that is not read here. */
export type FileFeature =
  | { is: 'extension'; name: string }
  | { is: 'version'; version: string }
  | { is: 'document-type' | 'password' | 'packing' | 'data-uri' };

type NoFacts = Record<never, never>;

/** What a reader finds wrong within a file, with the facts its words need. */
interface FileFaults {
  // Text of any format.
  'goes-on': NoFacts;
  'vertex-missing': { vertex: number };
  'word-missing': NoFacts;
  'number-missing': NoFacts;
  'not-a-number': { text: string };
  'count-not-whole': NoFacts;
  'line-too-long': { megabytes: number };
  // Faces and placements of any format.
  'face-too-large': { corners: number };
  'placement-not-numbers': NoFacts;
  // STL
  'word-misplaced': NoFacts;
  'vertex-outside-loop': NoFacts;
  'facet-not-triangle': NoFacts;
  'triangles-exceed': { declared: number };
  // OBJ
  'vertex-number-not-whole': NoFacts;
  'statement-missing': NoFacts;
  // OFF
  'off-kind': { word: string };
  'off-binary': NoFacts;
  'counts-missing': NoFacts;
  'faces-exceed': { declared: number };
  // PLY
  'header-endless': NoFacts;
  'encoding-missing': NoFacts;
  'encoding-unknown': { word: string };
  'element-incomplete': NoFacts;
  'property-early': NoFacts;
  'property-unknown': NoFacts;
  'list-too-long': { entries: number };
  'axis-missing': { axis: string };
  'vertices-twice': NoFacts;
  // XML
  'not-xml': NoFacts;
  'tag-endless': NoFacts;
  'tag-unnamed': NoFacts;
  'tag-unmatched': NoFacts;
  'entity-unknown': NoFacts;
  'attributes-too-many': NoFacts;
  'attribute-bare': NoFacts;
  'value-unquoted': NoFacts;
  // Archives
  'archive-cut': NoFacts;
  'archive-damaged': NoFacts;
  'archive-understated': NoFacts;
  'archive-name-shared': { path: string };
  'archive-lacks': { path: string };
  // 3MF
  'model-missing': NoFacts;
  'unit-unknown': NoFacts;
  'object-without-id': NoFacts;
  'object-id-shared': NoFacts;
  'object-missing': { id: string };
  'mesh-astray': NoFacts;
  'vertex-incomplete': NoFacts;
  'triangle-incomplete': NoFacts;
  'reference-empty': NoFacts;
  'transform-incomplete': NoFacts;
  // glTF
  'description-missing': NoFacts;
  'description-not-json': NoFacts;
  'description-not-object': NoFacts;
  'version-missing': NoFacts;
  'scene-empty': NoFacts;
  'node-shared': { node: number };
  'entry-missing': { entry: number; list: string };
  'field-not-whole': { field: string };
  'field-not-numbers': { field: string; count: number };
  'field-not-objects': { field: string };
  'field-not-object': { field: string };
  'field-not-list': { field: string };
  'buffer-empty': NoFacts;
  'data-uri-damaged': NoFacts;
  'meshopt-damaged': NoFacts;
  'draco-damaged': NoFacts;
  'corners-not-threes': NoFacts;
  'accessor-type': { accessor: number; type: string };
  'accessor-component': { accessor: number };
  'accessor-empty': { accessor: number };
  'accessor-too-long': NoFacts;
  'stride-short': NoFacts;
  'sparse-component': NoFacts;
  'sparse-astray': NoFacts;
}

/** One of them; where it lies is told beside it. */
export type FileFault = { [F in keyof FileFaults]: { is: F } & FileFaults[F] }[keyof FileFaults];

/** Why the system does not read or write a file. */
export type SystemFault =
  | 'no-such-file'
  | 'no-such-folder'
  | 'no-file'
  | 'not-allowed'
  | 'read-only'
  | 'disk-full'
  | 'share-full'
  | 'too-large'
  | 'name-taken'
  | 'file-for-folder'
  | 'is-folder'
  | 'folder-in-place'
  | 'name-too-long'
  | 'links-in-ring'
  | 'too-many-open'
  | 'in-use'
  | 'device-failed'
  | 'connection-lost'
  | 'not-taken'
  | 'two-disks';

/** The same, or what the system says of something rarer, in its own words. */
export type Trouble = { is: SystemFault } | { is: 'said'; words: string };
