import { useState } from 'react';
import { Button } from 'react-aria-components';
import type { Health, SculptSummary } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { removeMend } from '../state/sculpt-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { lexicon, words } from '../words.ts';
import { DefectEntry } from './DefectEntry.tsx';
import { type Asked, Remedies } from './Remedies.tsx';
import './SculptHealth.css';

/** Whether the sculpt is sound, what was mended, and what is wrong with it with what can be done. */
export function SculptHealth({ summary }: { summary: SculptSummary }) {
  const actions = useActions();
  const health = useBench((s) => s.derived.health);
  const isLooking = useBench((s) => s.derived.busy?.what === 'examining');
  return (
    <section aria-labelledby="health-title" data-testid="health">
      <h3 id="health-title">{words.health}</h3>
      <p data-testid="soundness" className={summary.solid ? '' : 'said-error'}>
        {summary.solid ? words.isSound : words.isUnsound}
      </p>
      {health ? (
        <Report health={health} />
      ) : (
        <Button className="full" isDisabled={isLooking} onPress={() => void actions.lookOver()}>
          {words.lookOver}
        </Button>
      )}
      <AgreedSteps />
      {summary.repairs.length > 0 && (
        <>
          <h4>{words.mendedSoFar}</h4>
          <ul className="said" data-testid="repairs">
            {summary.repairs.map((repair) => (
              <li key={repair.code}>{lexicon.repair(repair)}</li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function Report({ health }: { health: Health }) {
  const [asked, ask] = useState<Asked | null>(null);
  return (
    <>
      {health.defects.length === 0 && <p className="soft">{words.nothingWrong}</p>}
      <ul className="defects" data-testid="defects">
        {health.defects.map((defect) => (
          <li key={defect.kind}>
            <DefectEntry defect={defect} />
            <Remedies at={defect.kind} asked={asked} onAsk={ask} />
          </li>
        ))}
      </ul>
      {!health.crossingsComplete && <p className="soft">{words.crossingsUnfinished}</p>}
    </>
  );
}

/** Changes of shape the job asks for, each of which can be taken back. */
function AgreedSteps() {
  const actions = useActions();
  const mends = useBench(jobOf).sculpt.mend ?? [];
  if (mends.length === 0) return null;
  return (
    <>
      <h4>{words.agreedSteps}</h4>
      <ol className="agreed" data-testid="agreed">
        {mends.map((mend, i) => (
          <li key={i}>
            <span>{words.mend(mend)}</span>
            <Button
              aria-label={words.takeBackStep(words.mend(mend))}
              onPress={() => actions.apply((j) => removeMend(j, i))}
            >
              {words.takeBack}
            </Button>
          </li>
        ))}
      </ol>
    </>
  );
}
