import { Button, ProgressBar } from 'react-aria-components';
import { words } from '../messages.ts';
import { type Busy, isSculptCurrent, jobOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';

/** The line at the foot: what is running and how far, what was said, what is on the bench. */
export function StatusLine() {
  const actions = useActions();
  const { summary, busy, message, viewJob, proof } = useBench((s) => s.derived);
  const job = useBench(jobOf);
  const isCurrent = useBench(isSculptCurrent);
  const isOutOfDate = summary !== null && busy === null && (!isCurrent || (summary.solid && viewJob !== job));
  return (
    <footer className="status-line" data-testid="status">
      <div className="status-work">
        {busy ? (
          <BusyMark busy={busy} onCancel={actions.cancelWork} />
        ) : (
          <span className="soft">
            {summary ? (proof?.job === job ? words.proved(proof.agreed) : words.ready) : words.starting}
          </span>
        )}
        {isOutOfDate && (
          <>
            <span>{words.outOfDate}</span>
            <Button onPress={actions.evaluateAgain}>{words.again}</Button>
          </>
        )}
      </div>
      <div className="status-said" aria-live="polite" role="status" data-tone={message?.tone}>
        {message && <span data-testid="message">{message.text}</span>}
        {message && <Button onPress={actions.dismiss}>{words.dismiss}</Button>}
      </div>
      {summary && (
        <div className="status-sculpt">
          <span className="file-name">{summary.file}</span>
          <span className="numerals soft">
            {words.sculptSize(
              summary.triangles,
              summary.boundsMm.max.map((high, i) => high - summary.boundsMm.min[i]!),
            )}
          </span>
        </div>
      )}
    </footer>
  );
}

function BusyMark({ busy, onCancel }: { busy: Busy; onCancel: () => void }) {
  const label = busy.step ? words.step(busy.step) : words.busy[busy.what];
  // A step that has only begun may be one that cannot tell how far it is.
  const percent = busy.done ? Math.round(busy.done * 100) : null;
  return (
    <span className="busy" data-testid="busy">
      <ProgressBar
        aria-label={label}
        {...(percent === null ? { isIndeterminate: true } : { value: percent })}
      >
        <span className="busy-track">
          <span className="busy-fill" style={{ width: `${percent ?? 12}%` }} />
        </span>
      </ProgressBar>
      <span>
        {label}
        {percent !== null && <span className="numerals"> {percent} %</span>}
      </span>
      <Button onPress={onCancel}>{words.cancel}</Button>
    </span>
  );
}
