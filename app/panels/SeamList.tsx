import { Button, Menu, MenuItem, MenuTrigger, Popover } from 'react-aria-components';
import type { Finding, Seam } from '../../src/index.ts';
import { words } from '../messages.ts';
import { jobOf } from '../state/bench-state.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { SeverityMark, worstOf } from './SeverityMark.tsx';

/** Seams and their pegs. Choosing one shows its fields and its drawings. */
export function SeamList() {
  const job = useBench(jobOf);
  return (
    <section className="panel seam-list" aria-labelledby="seam-list-title">
      <div className="panel-head">
        <h2 id="seam-list-title">{words.seamsAndPegs}</h2>
        <AddSeam />
      </div>
      {job.seams.length === 0 && <p className="soft">{words.noSeams}</p>}
      <ul>
        {job.seams.map((seam) => (
          <SeamEntry key={seam.id} seam={seam} />
        ))}
      </ul>
    </section>
  );
}

function SeamEntry({ seam }: { seam: Seam }) {
  const actions = useActions();
  const { seamId, pegIndex, tab } = useBench((s) => s.sitting);
  const findings = useBench((s) => s.derived.view?.findings);
  const about = (peg: number | null) =>
    findings?.filter(
      (f) => f.seamId === seam.id && (peg === null ? f.pegIndex === undefined : f.pegIndex === peg),
    );
  const isHere = seamId === seam.id;
  return (
    <li>
      <EntryButton
        isChosen={isHere && tab !== 'peg'}
        findings={about(null)}
        title={words.seamTitle(seam.names.front, seam.names.back)}
        note={seam.id}
        onPress={() => actions.select(seam.id, isHere ? pegIndex : 0, 'seam')}
      />
      <ul>
        {seam.pegs.map((peg, i) => (
          <li key={i}>
            <EntryButton
              isChosen={isHere && tab === 'peg' && pegIndex === i}
              findings={about(i)}
              title={words.peg(i + 1)}
              note={peg.at === 'auto' ? words.pegAuto : ''}
              onPress={() => actions.select(seam.id, i, 'peg')}
            />
          </li>
        ))}
      </ul>
    </li>
  );
}

interface EntryButtonProps {
  isChosen: boolean;
  findings: Finding[] | undefined;
  title: string;
  note: string;
  onPress: () => void;
}

function EntryButton({ isChosen, findings, title, note, onPress }: EntryButtonProps) {
  const worst = worstOf(findings ?? []);
  return (
    <Button
      className="entry"
      data-chosen={isChosen || undefined}
      {...(isChosen && { 'aria-current': 'true' as const })}
      onPress={onPress}
    >
      <span className="entry-title">{title}</span>
      <span className="soft">{note}</span>
      {worst && worst !== 'info' && <SeverityMark severity={worst} />}
    </Button>
  );
}

/** A seam through the whole figure while there is none, else through one of its parts. */
function AddSeam() {
  const actions = useActions();
  const hasSeams = useBench((s) => jobOf(s).seams.length > 0);
  const parts = useBench((s) => s.derived.view?.parts) ?? [];
  const hasSculpt = useBench((s) => s.derived.summary !== null);
  if (!hasSeams) {
    return (
      <Button isDisabled={!hasSculpt} onPress={() => actions.addSeam(null)}>
        {words.addSeam}
      </Button>
    );
  }
  return (
    <MenuTrigger>
      <Button isDisabled={parts.length === 0}>{words.addSeam}</Button>
      <Popover className="popover" placement="bottom end">
        <Menu
          items={parts}
          aria-label={words.addSeam}
          onAction={(id) => actions.addSeam(parts.find((p) => p.id === id) ?? null)}
        >
          {(part) => <MenuItem id={part.id}>{words.addSeamTo(part.name)}</MenuItem>}
        </Menu>
      </Popover>
    </MenuTrigger>
  );
}
