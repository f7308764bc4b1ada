import { type DragEvent, lazy, Suspense, useState } from 'react';
import { I18nProvider } from 'react-aria-components';
import { notice } from '../src/index.ts';
import { StartCard } from './bench/StartCard.tsx';
import { Fields } from './panels/Fields.tsx';
import { Findings } from './panels/Findings.tsx';
import { PartTree } from './panels/PartTree.tsx';
import { Sheets } from './panels/Sheets.tsx';
import { StatusLine } from './panels/StatusLine.tsx';
import { TopBar } from './panels/TopBar.tsx';
import { useActions, useBenchStore } from './state/workbench.tsx';
import { useShortcuts } from './ui/use-shortcuts.ts';
import { lexicon, words } from './words.ts';
import './App.css';
import './bench/bench.css';

/** The scene is by far the largest piece of code: the rest of the page stands before it arrives. */
const Bench = lazy(() =>
  import('./bench/Bench.tsx').then(
    // Nothing comes where its code could not be fetched and that was taken note of (`main.tsx`).
    (scene: typeof import('./bench/Bench.tsx') | undefined) => ({ default: scene?.Bench ?? BenchMissing }),
    () => ({ default: BenchMissing }),
  ),
);

const BenchComing = () => (
  <section className="bench" aria-label={words.bench}>
    <StartCard />
  </section>
);

const BenchMissing = () => (
  <section className="bench" aria-label={words.bench}>
    <p className="drawing-empty">{words.benchMissing}</p>
  </section>
);

/** The page: list and fields at the left, the bench in the middle, the two drawings at the right. */
export function App() {
  const actions = useActions();
  useShortcuts(useBenchStore(), actions);
  const { isOver, ...drop } = useFileDrop();
  return (
    <I18nProvider locale={lexicon.tag}>
      <div className="page" {...drop}>
        <TopBar />
        <main>
          <div className="left">
            <PartTree />
            <Fields />
            <Findings />
          </div>
          <Suspense fallback={<BenchComing />}>
            <Bench />
          </Suspense>
          <Sheets />
        </main>
        <StatusLine />
        {isOver && <p className="drop-veil">{words.dropHere}</p>}
      </div>
    </I18nProvider>
  );
}

/** Files may be dropped anywhere on the page. */
function useFileDrop() {
  const actions = useActions();
  const [isOver, setOver] = useState(false);
  return {
    isOver,
    onDragOver: (event: DragEvent) => {
      event.preventDefault();
      setOver(true);
    },
    onDragLeave: (event: DragEvent) => {
      if (event.relatedTarget === null) setOver(false);
    },
    onDrop: (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      const files = [...event.dataTransfer.files];
      if (files.length > 0) void actions.openFiles(files);
      else actions.say(notice('no-file-dropped'));
    },
  };
}
