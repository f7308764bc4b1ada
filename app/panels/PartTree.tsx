import { useState } from 'react';
import { type PartNode, type Seam, type SeamNode, type Severity, toGetFor } from '../../src/index.ts';
import { type BenchState, jointResultOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { findJoint } from '../state/job-edits.ts';
import { isSameTree, loosePartOf, treeOf } from '../state/parts.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { toGetText } from '../ui/to-get-text.ts';
import { words } from '../words.ts';
import { AddSeam } from './AddSeam.tsx';
import { EntryButton } from './EntryButton.tsx';
import { Offers } from './Offers.tsx';
import { PartRow } from './PartRow.tsx';
import { SeamOrder } from './SeamOrder.tsx';
import { worstOf } from './SeverityMark.tsx';
import { useSeamTitle } from './use-seam-title.ts';
import './PartTree.css';

/** Which seam divides which part, with the joints of each. Choosing one shows its fields and its drawings. */
export function PartTree() {
  const { root, joining, astray } = useBench(treeOf, isSameTree);
  const hasSculpt = useBench((s) => s.derived.summary !== null);
  const [added, setAdded] = useState<string | null>(null);
  return (
    <section className="panel seam-list" aria-labelledby="seam-list-title">
      <div className="panel-head">
        <h2 id="seam-list-title">{words.seamsAndPegs}</h2>
        <AddSeam onAdded={setAdded} />
      </div>
      {root.seam === null && root.bodies.length === 0 && astray.length === 0 && (
        <p className="soft">{words.noSeams}</p>
      )}
      <Offers onAdded={setAdded} />
      <SeamOrder onMove={() => setAdded(null)} />
      <ul data-scrolls>
        {joining.map((seam) => (
          <li key={seam.id}>
            <SeamGroup seam={seam} added={added} />
          </li>
        ))}
        {root.bodies.map((body) => (
          <PartBranch key={body.id} node={body} carries={carriedIn(joining, body)} added={added} />
        ))}
        {root.seam ? (
          <SeamBranch node={root.seam} added={added} />
        ) : (
          root.bodies.length === 0 &&
          hasSculpt && (
            <li>
              <PartRow node={root} carries={null} />
            </li>
          )
        )}
        {astray.map((seam) => (
          <li key={seam.id}>
            <SeamGroup seam={seam} added={added} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The gravest of what was found about a seam, or about one of its joints. */
const worstAbout = ({ derived }: BenchState, seamId: string, jointId: string | undefined): Severity | null =>
  worstOf((derived.view?.findings ?? []).filter((f) => f.seamId === seamId && f.jointId === jointId));

/** A seam with its joints and the parts it makes, each with the seam that divides it. */
function SeamBranch({ node, added }: { node: SeamNode; added: string | null }) {
  const { seam, front, back } = node;
  return (
    <li>
      <SeamGroup seam={seam} added={added} />
      <ul>
        <PartBranch node={front} carries={carriedBy(seam.pegOn === 'front')} added={added} />
        <PartBranch node={back} carries={carriedBy(seam.pegOn === 'back')} added={added} />
      </ul>
    </li>
  );
}

/** A seam with its joints. */
const SeamGroup = ({ seam, added }: { seam: Seam; added: string | null }) => (
  <div data-group={seam.id}>
    <SeamEntry seamId={seam.id} rowCount={1 + seam.joints.length} isAdded={seam.id === added} />
    <ul>
      {seam.joints.map(({ id }, place) => (
        <li key={id}>
          <JointEntry seamId={seam.id} jointId={id} place={place} />
          <LoosePart seamId={seam.id} jointId={id} />
          <JointSupply seamId={seam.id} jointId={id} />
        </li>
      ))}
    </ul>
  </div>
);

/** The part that lies loose in a joint, where one does. */
function LoosePart({ seamId, jointId }: { seamId: string; jointId: string }) {
  const node = useBench((s) => loosePartOf(s, seamId, jointId), isSame);
  return (
    node && (
      <ul>
        <li>
          <PartRow node={node} carries={null} />
        </li>
      </ul>
    )
  );
}

/** What is to be got for a joint, where something is. */
function JointSupply({ seamId, jointId }: { seamId: string; jointId: string }) {
  const supply = useBench((s) => {
    const result = jointResultOf(s, seamId, jointId);
    return result && toGetFor(result.settled);
  }, isSame);
  return (
    supply && (
      <p className="joint-supply soft" data-testid="joint-supply">
        {toGetText(supply)}
      </p>
    )
  );
}

/** What a body carries by the seam that joined it last; null for one that none joins. */
function carriedIn(joining: readonly Seam[], { ref }: PartNode) {
  const seam = ref.of === 'seam' ? joining.find(({ id }) => id === ref.seamId) : undefined;
  return seam && ref.of === 'seam' ? carriedBy(seam.pegOn === ref.side) : null;
}

const carriedBy = (isPegged: boolean) => (isPegged ? 'pegged' : 'socketed');

interface PartBranchProps {
  node: PartNode;
  carries: 'pegged' | 'socketed' | null;
  added: string | null;
}

function PartBranch({ node, carries, added }: PartBranchProps) {
  return (
    <li>
      <PartRow node={node} carries={carries} />
      {node.seam && (
        <ul>
          <SeamBranch node={node.seam} added={added} />
        </ul>
      )}
    </li>
  );
}

interface SeamEntryProps {
  seamId: string;
  rowCount: number;
  /** It has just been, and takes the focus, so that its keys and its fields are next. */
  isAdded: boolean;
}

function SeamEntry({ seamId, rowCount, isAdded }: SeamEntryProps) {
  const actions = useActions();
  const title = useSeamTitle(seamId);
  const jointId = useBench(({ sitting }) => (sitting.seamId === seamId ? sitting.jointId : null));
  const isChosen = useBench(({ sitting }) => sitting.seamId === seamId && sitting.tab !== 'peg');
  const worst = useBench((s) => worstAbout(s, seamId, undefined));
  const isWaiting = useBench((s) => treeOf(s).astray.some(({ id }) => id === seamId));
  return (
    <EntryButton
      isChosen={isChosen}
      worst={isWaiting ? 'error' : worst}
      title={title ?? ''}
      note={isWaiting ? words.waits : seamId}
      rowCount={rowCount}
      takesFocus={isAdded}
      onPress={() => actions.select(seamId, jointId, 'seam')}
    />
  );
}

function JointEntry({ seamId, jointId, place }: { seamId: string; jointId: string; place: number }) {
  const actions = useActions();
  const isAuto = useSeam(seamId, (seam) => findJoint(seam, jointId)?.at === 'auto');
  const isChosen = useBench(
    ({ sitting }) => sitting.seamId === seamId && sitting.tab === 'peg' && sitting.jointId === jointId,
  );
  const worst = useBench((s) => worstAbout(s, seamId, jointId));
  return (
    <EntryButton
      isChosen={isChosen}
      worst={worst}
      title={words.peg(place + 1)}
      note={isAuto ? words.pegAuto : ''}
      onPress={() => actions.select(seamId, jointId, 'peg')}
    />
  );
}
