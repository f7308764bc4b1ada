import { Button } from 'react-aria-components';
import { type Finding, stillStanding } from '../../src/index.ts';
import { jobOf, refusalOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { addJoint, setOf } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { messageText } from '../ui/message-text.ts';
import { namesIn } from '../ui/names.ts';
import { StaleNote, useStale } from '../ui/StaleNote.tsx';
import { lexicon, words } from '../words.ts';
import { JointMends } from './JointMends.tsx';
import { OneWayMends } from './OneWayMends.tsx';
import { SeverityMark } from './SeverityMark.tsx';
import { useSeamTitle } from './use-seam-title.ts';
import './Findings.css';
import './finding-row.css';

const NONE: readonly Finding[] = [];
const NOT_NESTED = { overlapsNested: false };
const GRAVEST_FIRST = { error: 0, warning: 1, info: 2 } as const;

/** What the checks found, gravest first. Choosing one goes to its place. */
export function Findings() {
  const ofJob = useBench((s) => s.derived.view?.findings ?? NONE, isSame);
  const ofSculpt = useBench(
    ({ derived: { summary, view } }) => stillStanding(summary?.findings ?? NONE, view ?? NOT_NESTED),
    isSame,
  );
  const refusal = useBench(refusalOf);
  const stale = useStale();
  const isStale = stale['data-stale'] ?? false;
  const isKnown = useBench((s) => s.derived.view !== null);
  const all = [
    ...ofJob.map((finding) => ({ finding, isOfSculpt: false })),
    ...ofSculpt.map((finding) => ({ finding, isOfSculpt: true })),
  ].sort((a, b) => GRAVEST_FIRST[a.finding.severity] - GRAVEST_FIRST[b.finding.severity]);
  return (
    <section className="panel findings" aria-labelledby="findings-title">
      <div className="panel-head">
        <h2 id="findings-title">{words.findings}</h2>
      </div>
      {refusal && (
        <p className="finding-standing" data-testid="standing-refusal">
          <SeverityMark severity={refusal.tone === 'error' ? 'error' : 'warning'} />
          <span>{messageText(refusal)}</span>
        </p>
      )}
      {!refusal && <StaleNote />}
      {isKnown && all.length === 0 && !refusal && !isStale && <p className="soft">{words.noFindings}</p>}
      <ul {...stale}>
        {all.map((entry, i) => (
          <li key={i}>
            <FindingEntry {...entry} />
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Flaws that looking the sculpt over shows with what can be done about them. */
const SHOWN_BY_LOOK: readonly Finding['code'][] = ['shells-overlap', 'specks-far'];

function FindingEntry({ finding, isOfSculpt }: { finding: Finding; isOfSculpt: boolean }) {
  const actions = useActions();
  const { seamId = null, jointId, pegIndex, at } = finding;
  const seamTitle = useSeamTitle(seamId);
  const sentence = useBench((s) => lexicon.finding(finding, namesIn(jobOf(s))));
  const hasHealth = useBench((s) => s.derived.health !== null);
  const go = () => {
    if (seamTitle) actions.select(seamId, jointId ?? null, jointId === undefined ? 'seam' : 'peg');
    if (at) actions.lookAt(at);
    if (isOfSculpt) actions.sit({ tab: 'sculpt' });
    if (SHOWN_BY_LOOK.includes(finding.code) && !hasHealth) void actions.lookOver();
  };
  const where = seamTitle && `${seamTitle}${pegIndex === undefined ? '' : `, ${words.peg(pegIndex + 1)}`}`;
  return (
    <>
      <Button className="finding" onPress={go} isDisabled={!seamTitle && !at && !isOfSculpt}>
        <SeverityMark severity={finding.severity} />
        <span>
          {sentence}
          {where && <span className="soft finding-where">{where}</span>}
        </span>
      </Button>
      <Remedy finding={finding} />
    </>
  );
}

/** True where a joint stands in the way of what other seams have, or they in its. */
const isBetweenSeams = ({ code, facts, jointId }: Finding): boolean =>
  jointId !== undefined && ABOUT_NEIGHBOURS.includes(code) && 'otherSeam' in facts;

const ABOUT_NEIGHBOURS: readonly Finding['code'][] = [
  'joint-crosses-seam',
  'pegs-too-close',
  'wall-thin',
  'socket-breaks-skin',
];

/** What can be done about a finding at a press. */
function Remedy({ finding }: { finding: Finding }) {
  const actions = useActions();
  const { seamId } = finding;
  if (seamId === undefined) return null;
  if (finding.code === 'seam-waits') {
    return finding.facts.instead.map(({ id, name }) => (
      <Button
        key={id}
        className="finding-remedy"
        onPress={() => actions.apply((job) => setOf(job, seamId, id))}
      >
        {words.divideInstead(name)}
      </Button>
    ));
  }
  if (finding.code === 'seats-more-than-one-way') return <OneWayMends seamId={seamId} />;
  if (isBetweenSeams(finding)) return <JointMends seamId={seamId} jointId={finding.jointId ?? ''} />;
  if (finding.code !== 'face-without-peg' || !finding.facts.fits) return null;
  return (
    <Button className="finding-remedy" onPress={() => actions.apply((job) => addJoint(job, seamId, 'auto'))}>
      {words.pegOnEachFace}
    </Button>
  );
}
