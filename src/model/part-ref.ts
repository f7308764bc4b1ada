/** A side of a seam. */
export type Side = 'front' | 'back';

export const otherSide = (side: Side): Side => (side === 'front' ? 'back' : 'front');

/**
 * What a part comes from: the whole sculpt, one of the bodies it is made of, or one side of a seam, each of which a seam may
 * divide; or a joint in which it lies loose, which none does.
 */
export type PartRef =
  | { of: 'sculpt' }
  /** By its name or, from 1, its number. */
  | { of: 'body'; body: string }
  | { of: 'seam'; seamId: string; side: Side }
  | { of: 'joint'; seamId: string; jointId: string };

export const SCULPT: PartRef = { of: 'sculpt' };

/**
 * A part as a job writes it: "sculpt", "body:<name or number>", or "<seam id>.front" and "<seam id>.back". What lies loose in
 * a joint, "joint:<seam id>/<joint id>", stands in no job.
 */
export function partId(ref: PartRef): string {
  if (ref.of === 'sculpt') return 'sculpt';
  if (ref.of === 'joint') return `joint:${plain(ref.seamId)}/${plain(ref.jointId)}`;
  return ref.of === 'body' ? `body:${ref.body}` : `${ref.seamId}.${ref.side}`;
}

/** An id without what parts it from others, so that no two parts go by one. */
const plain = (id: string): string => id.replace(/[%/.]/g, (sign) => `%${sign.charCodeAt(0).toString(16)}`);

/** The same read, of what stands in jobs; null for anything else. */
export function partRef(id: string): PartRef | null {
  if (id === 'sculpt') return SCULPT;
  const [, seamId, side] = /^(.+)\.(front|back)$/s.exec(id) ?? [];
  if (seamId !== undefined) return { of: 'seam', seamId, side: side as Side };
  const [, body] = /^body:(.+)$/s.exec(id) ?? [];
  return body === undefined ? null : { of: 'body', body };
}

/** The ids of a sculpt's bodies by their names ('' for none): each by its name where no other has that, else by its number. */
export const bodyIds = (names: readonly string[]): string[] =>
  names.map((name, i) => {
    const isOwn = name !== '' && !/^\d+$/.test(name) && names.filter((other) => other === name).length === 1;
    return partId({ of: 'body', body: isOwn ? name : `${i + 1}` });
  });

/** The id that a part goes by which a job may name otherwise: a body by its number. */
export function knownId(id: string, names: readonly string[]): string {
  const ref = partRef(id);
  if (ref?.of !== 'body') return id;
  const place = names.includes(ref.body) ? names.indexOf(ref.body) : Number(ref.body) - 1;
  return bodyIds(names)[place] ?? id;
}

/** What a body is called: its own name, or that of its sculpt with its number. */
export const bodyName = (body: string, sculptName: string): string =>
  /^\d+$/.test(body) ? `${sculptName} ${body}` : body;

/** A file's name without folders and endings. */
export const bareName = (file: string): string =>
  (file.split(/[/\\]/).pop() ?? file).replace(/(\.gz)?$/i, '').replace(/\.[a-z0-9]{1,5}$/i, '') || 'part';
