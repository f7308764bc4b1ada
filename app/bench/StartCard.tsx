import { Button, FileTrigger } from 'react-aria-components';
import { useActions, useBench } from '../state/workbench.tsx';
import { WorkMark } from '../ui/WorkMark.tsx';
import { words } from '../words.ts';
import './start-card.css';

/**
 * What stands on the bench before a figure does: which one is coming, how far it is, and where to begin. Where none is
 * coming, how to put one there.
 */
export function StartCard() {
  const coming = useBench((s) => s.derived.coming);
  const isBare = useBench((s) => s.derived.summary === null && s.derived.glimpse === null);
  if (!isBare) return null;
  return (
    <section className="start-card" aria-labelledby="start-title" data-testid="start-card">
      {coming === null ? <HowToStart /> : <OnItsWay name={coming} />}
      <ul>
        {words.whatYouCanDo.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </section>
  );
}

function OnItsWay({ name }: { name: string }) {
  const label = useBench(({ derived: { busy } }) => (busy?.step ? words.step(busy.step) : words.starting));
  const done = useBench(({ derived: { busy } }) => busy?.done ?? null);
  return (
    <>
      <h2 id="start-title">{words.comingTitle(name)}</h2>
      <div className="start-work">
        <WorkMark label={label} done={done} />
      </div>
    </>
  );
}

function HowToStart() {
  const actions = useActions();
  return (
    <>
      <h2 id="start-title">{words.startTitle}</h2>
      <p>{words.startHow}</p>
      <div className="start-ways">
        <FileTrigger allowsMultiple onSelect={(files) => files && void actions.openFiles([...files])}>
          <Button className="primary">{words.openFile}</Button>
        </FileTrigger>
        <Button onPress={() => void actions.openDemo()}>{words.beginWithDemo}</Button>
      </div>
    </>
  );
}
