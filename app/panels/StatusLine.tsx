import { Button } from 'react-aria-components';
import {
  type BenchState,
  isHeld,
  isSculptCurrent,
  jobOf,
  refusalOf,
  staleness,
} from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { messageText } from '../ui/message-text.ts';
import { WorkMark } from '../ui/WorkMark.tsx';
import { words } from '../words.ts';
import './StatusLine.css';

/** The line at the foot: what is running and how far, what was said, what is on the bench. */
export const StatusLine = () => (
  <footer className="status-line" data-testid="status">
    <Work />
    <Said />
    <KeptElsewhere />
    <SculptOnBench />
  </footer>
);

function Work() {
  const actions = useActions();
  const isBusy = useBench((s) => s.derived.busy !== null);
  const isBrief = useBench((s) => s.derived.busy?.isBrief ?? false);
  const isOutOfDate = useBench(isBehind);
  const rest = useBench(wordsAtRest);
  return (
    <div className="status-work" data-testid={isBusy ? 'busy' : undefined}>
      {isBusy && !isBrief ? <BusyMark /> : <span className="soft">{rest}</span>}
      {isOutOfDate && (
        <>
          <span>{words.outOfDate}</span>
          <Button onPress={actions.evaluateAgain}>{words.again}</Button>
        </>
      )}
    </div>
  );
}

/** True where nothing is being done about parts that are not those of the job. */
function isBehind(state: BenchState): boolean {
  const { summary, busy, viewJob } = state.derived;
  if (summary === null || busy !== null) return false;
  if (!isSculptCurrent(state)) return true;
  return summary.solid && viewJob !== jobOf(state) && !isHeld(state);
}

function wordsAtRest(state: BenchState): string {
  const { summary, coming, proof, view, viewJob } = state.derived;
  if (summary === null) return coming === null ? words.noFigure : words.starting;
  if (refusalOf(state)) return viewJob === jobOf(state) ? words.notReady : words.notWorkedOut;
  if (staleness(state) !== null) return '';
  const errors = view?.findings.filter(({ severity }) => severity === 'error').length ?? 0;
  return words.readyWith(errors, proof?.job === jobOf(state) ? proof.proving : null);
}

function BusyMark() {
  const actions = useActions();
  const busy = useBench((s) => s.derived.busy);
  if (busy === null) return null;
  const label = busy.step ? words.step(busy.step) : words.busy[busy.what];
  return (
    <span className="busy">
      <WorkMark label={label} done={busy.done} />
      <Button onPress={actions.cancelWork}>{words.cancel}</Button>
    </span>
  );
}

function Said() {
  const actions = useActions();
  const message = useBench((s) => s.derived.message);
  const text = message && messageText(message);
  return (
    <div className="status-said" aria-live="polite" role="status" data-tone={message?.tone}>
      {text && (
        <span data-testid="message" title={text}>
          {text}
        </span>
      )}
      {message && <Button onPress={actions.dismiss}>{words.dismiss}</Button>}
    </div>
  );
}

/** Stands as long as another tab keeps the job. */
function KeptElsewhere() {
  const actions = useActions();
  const isElsewhere = useBench((s) => s.saved.keptBy === 'other-tab');
  if (!isElsewhere) return null;
  return (
    <div className="status-said" data-tone="error" data-testid="kept-elsewhere">
      <span>{words.keptByOther}</span>
      <Button onPress={() => void actions.keepHere()}>{words.keepHere}</Button>
    </div>
  );
}

function SculptOnBench() {
  const summary = useBench((s) => s.derived.summary);
  if (summary === null) return null;
  const { min, max } = summary.boundsMm;
  return (
    <div className="status-sculpt">
      <span className="file-name" title={summary.file}>
        {summary.file}
      </span>
      <span className="numerals soft">
        {words.sculptSize(
          summary.triangles,
          max.map((high, i) => high - min[i]!),
        )}
      </span>
    </div>
  );
}
