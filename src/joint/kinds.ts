import type { KindFields } from '../model/job.ts';
import type { JointKind } from './kind.ts';
import { bar } from './kinds/bar.ts';
import { d } from './kinds/d.ts';
import { magnet } from './kinds/magnet.ts';
import { outline } from './kinds/outline.ts';
import { pin } from './kinds/pin.ts';
import { round } from './kinds/round.ts';
import { taper } from './kinds/taper.ts';

/** Every kind of joint there is, the commonest first. */
const kinds = new Map<string, JointKind>(
  [taper, round, d, bar, outline, pin, magnet].map((kind) => [kind.name, kind]),
);

export const jointKinds = (): readonly JointKind[] => [...kinds.values()];

/** A kind by its name, which a job that was read has checked. */
export function jointKind(name: string): JointKind {
  const kind = kinds.get(name);
  if (!kind) throw new Error(`no kind of joint is called ${name}`);
  return kind;
}

/** Adds a kind to those there are. */
export const addJointKind = (kind: JointKind): void => void kinds.set(kind.name, kind);

/** What a job may ask of each kind. */
export const kindFields = (): KindFields =>
  Object.fromEntries(
    jointKinds().map(({ name, fields, outline }) => [name, { fields, hasOutline: !!outline }]),
  );
