import { Button } from 'react-aria-components';
import {
  type JointField,
  jointKind,
  jointKinds,
  type Process,
  type SizeName,
  type Sizes,
} from '../../src/index.ts';
import { isHeld, jobOf, jointResultOf } from '../state/bench-state.ts';
import { findJoint, findSeam, removeJoint, setJoint, setKind } from '../state/job-edits.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { Choice } from '../ui/Choice.tsx';
import { Num } from '../ui/Num.tsx';
import { readTaper } from '../ui/read-taper.ts';
import { lexicon, words } from '../words.ts';
import { OutlineFields } from './OutlineFields.tsx';

const KINDS = jointKinds().map(({ name }) => ({ id: name, text: words.kindCalled(name) }));

/** One joint of one seam. */
interface JointProps {
  seamId: string;
  jointId: string;
}

/** Fields of one joint, as its kind has them. An empty field shows, and takes, the size the engine settled on. */
export function PegFields({ seamId, jointId }: JointProps) {
  const actions = useActions();
  const kind = useSeam(seamId, (seam) => findJoint(seam, jointId)?.kind) ?? null;
  const isAuto = useSeam(seamId, (seam) => findJoint(seam, jointId)?.at === 'auto') ?? false;
  if (kind === null) return null;
  return (
    <div className="field-grid">
      <div className="wide">
        <Choice
          label={words.kind}
          options={KINDS}
          chosen={kind}
          onChoose={(to) => actions.apply((j) => setKind(j, seamId, jointId, to))}
        />
      </div>
      <OfferedSize seamId={seamId} jointId={jointId} kind={kind} />
      {isAuto && <p className="wide soft peg-kind">{words.pegAuto}</p>}
      {jointKind(kind).outline && <OutlineFields seamId={seamId} jointId={jointId} />}
      {jointKind(kind).fields.map((field) => (
        <SizeField key={field.name} seamId={seamId} jointId={jointId} field={field} />
      ))}
      <p className="wide soft">{words.emptyMeans}</p>
      <Cautions seamId={seamId} jointId={jointId} kind={kind} />
      <Button
        isDisabled={isAuto}
        onPress={() => actions.apply((j) => setJoint(j, seamId, jointId, { at: 'auto' }))}
      >
        {words.placeForMe}
      </Button>
      <Button className="quiet" onPress={() => actions.apply((j) => removeJoint(j, seamId, jointId))}>
        {words.removePeg}
      </Button>
    </div>
  );
}

/** Sizes that are to be had, of a kind that is bought or cut from what is: one of them sets the fields. */
function OfferedSize({ seamId, jointId, kind }: JointProps & { kind: string }) {
  const actions = useActions();
  const offered = jointKind(kind).offered ?? NONE_OFFERED;
  const chosen = useBench((s) => {
    const seam = findSeam(jobOf(s), seamId);
    const joint = seam && findJoint(seam, jointId);
    const settled = jointResultOf(s, seamId, jointId)?.settled;
    return offered.findIndex((sizes) =>
      namesIn(sizes).every((name) => (joint?.[name] ?? settled?.[name]) === sizes[name]),
    );
  });
  if (offered.length === 0) return null;
  return (
    <div className="wide">
      <Choice
        label={words.standardSize}
        options={offered.map((sizes, i) => ({ id: `${i}`, text: words.sizeCalled(Object.values(sizes)) }))}
        chosen={chosen < 0 ? null : `${chosen}`}
        placeholder={words.ownSize}
        onChoose={(id) => actions.apply((j) => setJoint(j, seamId, jointId, offered[Number(id)] ?? {}))}
      />
    </div>
  );
}

const NONE_OFFERED: readonly Sizes[] = [];
const namesIn = (sizes: Sizes): SizeName[] => Object.keys(sizes) as SizeName[];

/** What is to be minded of such a joint, and which way round its magnets lie. */
function Cautions({ seamId, jointId, kind }: JointProps & { kind: string }) {
  const result = useBench((s) => jointResultOf(s, seamId, jointId));
  if (result?.settled.kind !== kind) return null;
  const cautions = jointKind(kind).cautions?.(result.settled) ?? [];
  return (
    <>
      {result.poles && (
        <p className="wide soft" data-testid="peg-poles">
          {words.poles(result.poles)}
        </p>
      )}
      {cautions.map((caution) => (
        <p key={caution.code} className="wide soft" data-testid={`caution-${caution.code}`}>
          {lexicon.finding({ ...caution, severity: 'info', pegIndex: result.index })}
        </p>
      ))}
    </>
  );
}

/** What the process says of a size of joints; undefined where it says nothing. */
const ofProcess = (process: Process, name: SizeName): number | undefined =>
  ({ sideGapMm: process.sideGapMm, endGapMm: process.endGapMm })[name as 'sideGapMm' | 'endGapMm'];

function SizeField({ seamId, jointId, field }: JointProps & { field: JointField }) {
  const { name, limits, step, isTaper } = field;
  const actions = useActions();
  const value = useSeam(seamId, (seam) => findJoint(seam, jointId)?.[name]) ?? undefined;
  const held = useBench(isHeld);
  const fallback = useBench(
    (s) => ofProcess(jobOf(s).process, name) ?? jointResultOf(s, seamId, jointId)?.settled[name] ?? null,
  );
  return (
    <Num
      label={words.fieldCalled(name)}
      unit={name.endsWith('Deg') ? words.deg : words.mm}
      value={value}
      isHeld={held}
      fallback={fallback}
      min={limits[0]}
      max={limits[1]}
      step={step}
      {...(isTaper && { read: readTaper })}
      onCommit={(to) => actions.apply((j) => setJoint(j, seamId, jointId, { [name]: to }))}
    />
  );
}
