import { useEffect, useRef, useState } from 'react';
import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import type { Severity } from '../../src/index.ts';
import { type BenchState, jobOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { useActions, useBench, useBenchStore, useSeam } from '../state/workbench.tsx';
import { useInSight } from '../ui/use-in-sight.ts';
import { words } from '../words.ts';
import { SeverityMark, worstOf } from './SeverityMark.tsx';
import { useSeamTitle } from './use-seam-title.ts';
import './SeamList.css';
import '../ui/popover.css';

/** Seams and their pegs. Choosing one shows its fields and its drawings. */
export function SeamList() {
  const seamIds = useBench((s) => jobOf(s).seams.map(({ id }) => id), isSame);
  const [added, setAdded] = useState<string | null>(null);
  return (
    <section className="panel seam-list" aria-labelledby="seam-list-title">
      <div className="panel-head">
        <h2 id="seam-list-title">{words.seamsAndPegs}</h2>
        <AddSeam onAdded={setAdded} />
      </div>
      {seamIds.length === 0 && <p className="soft">{words.noSeams}</p>}
      <ul data-scrolls>
        {seamIds.map((id) => (
          <SeamEntry key={id} seamId={id} isAdded={id === added} />
        ))}
      </ul>
    </section>
  );
}

/** The gravest of what was found about a seam, or about one of its pegs. */
const worstAbout = ({ derived }: BenchState, seamId: string, peg: number | undefined): Severity | null =>
  worstOf((derived.view?.findings ?? []).filter((f) => f.seamId === seamId && f.pegIndex === peg));

/** `isAdded`: it has just been, and takes the focus, so that its keys and its fields are next. */
function SeamEntry({ seamId, isAdded }: { seamId: string; isAdded: boolean }) {
  const actions = useActions();
  const title = useSeamTitle(seamId);
  const pegCount = useSeam(seamId, ({ pegs }) => pegs.length) ?? 0;
  const pegIndex = useBench(({ sitting }) => (sitting.seamId === seamId ? sitting.pegIndex : 0));
  const isChosen = useBench(({ sitting }) => sitting.seamId === seamId && sitting.tab !== 'peg');
  const worst = useBench((s) => worstAbout(s, seamId, undefined));
  return (
    <li>
      <EntryButton
        isChosen={isChosen}
        worst={worst}
        title={title ?? ''}
        note={seamId}
        rowCount={1 + pegCount}
        takesFocus={isAdded}
        onPress={() => actions.select(seamId, pegIndex, 'seam')}
      />
      <ul>
        {Array.from({ length: pegCount }, (_, i) => (
          <li key={i}>
            <PegEntry seamId={seamId} index={i} />
          </li>
        ))}
      </ul>
    </li>
  );
}

function PegEntry({ seamId, index }: { seamId: string; index: number }) {
  const actions = useActions();
  const isAuto = useSeam(seamId, ({ pegs }) => pegs[index]?.at === 'auto');
  const isChosen = useBench(
    ({ sitting }) => sitting.seamId === seamId && sitting.tab === 'peg' && sitting.pegIndex === index,
  );
  const worst = useBench((s) => worstAbout(s, seamId, index));
  return (
    <EntryButton
      isChosen={isChosen}
      worst={worst}
      title={words.peg(index + 1)}
      note={isAuto ? words.pegAuto : ''}
      onPress={() => actions.select(seamId, index, 'peg')}
    />
  );
}

interface EntryButtonProps {
  isChosen: boolean;
  worst: Severity | null;
  title: string;
  note: string;
  /** Rows that belong together under this one, itself among them. */
  rowCount?: number;
  takesFocus?: boolean;
  onPress: () => void;
}

function EntryButton({
  isChosen,
  worst,
  title,
  note,
  rowCount = 1,
  takesFocus = false,
  onPress,
}: EntryButtonProps) {
  const ref = useRef<HTMLButtonElement>(null);
  useInSight(ref, isChosen, rowCount);
  useEffect(() => {
    if (takesFocus) ref.current?.focus();
  }, [takesFocus]);
  return (
    <Button
      ref={ref}
      className="entry"
      data-chosen={isChosen || undefined}
      {...(isChosen && { 'aria-current': 'true' as const })}
      onPress={onPress}
    >
      <span className="entry-title" title={title}>
        {title}
      </span>
      <span className="entry-note soft" title={note}>
        {note}
      </span>
      {worst && worst !== 'info' && <SeverityMark severity={worst} />}
    </Button>
  );
}

/** A seam through the whole figure while there is none, else through one of its parts. */
function AddSeam({ onAdded }: { onAdded: (seamId: string | null) => void }) {
  const actions = useActions();
  const store = useBenchStore();
  const hasSeams = useBench((s) => jobOf(s).seams.length > 0);
  const parts = useBench((s) => s.derived.view?.parts.map(({ id, name }) => ({ id, name })) ?? [], isSame);
  const hasSculpt = useBench((s) => s.derived.summary !== null);
  const addTo = (partId: unknown) => {
    const now = store.getState().derived.view?.parts ?? [];
    onAdded(actions.addSeam(now.find(({ id }) => id === partId) ?? null));
  };
  if (!hasSeams) {
    return (
      <Button isDisabled={!hasSculpt} onPress={() => onAdded(actions.addSeam(null))}>
        {words.addSeam}
      </Button>
    );
  }
  return (
    <MenuTrigger>
      <Button isDisabled={parts.length === 0}>{words.addSeam}</Button>
      <Popover className="popover" placement="bottom end">
        <Menu items={parts} aria-label={words.addSeam} onAction={addTo}>
          {(part) => <MenuItem id={part.id}>{words.addSeamTo(part.name)}</MenuItem>}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
