import type { ReactNode } from 'react';
import { Button, ToggleButton } from 'react-aria-components';
import { SectionDrawing } from '../drawings/SectionDrawing.tsx';
import { facetOf, facetsToShow, jobOf, jointResultOf, seamResultOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { useActions, useBench, useSeam } from '../state/workbench.tsx';
import { StaleNote, useStale } from '../ui/StaleNote.tsx';
import { words } from '../words.ts';
import { FaceSheet } from './FaceSheet.tsx';
import { useSeamTitle } from './use-seam-title.ts';
import './Sheets.css';

/** The two drawings, like sheets of paper on the table. */
export function Sheets() {
  return (
    <div className="sheets">
      <FacePaper />
      <SectionPaper />
    </div>
  );
}

interface PaperProps {
  id: string;
  title: string;
  about: string;
  end?: ReactNode;
  /** The seam whose face it shows, if it does. */
  faceOf?: string | null;
  children: ReactNode;
}

function Paper({ id, title, about, end, faceOf = null, children }: PaperProps) {
  const stale = useStale(faceOf);
  return (
    <section className="paper" aria-labelledby={`${id}-title`} data-testid={id}>
      <header className="paper-strip">
        <h2 id={`${id}-title`}>{title}</h2>
        <span className="soft" title={about}>
          {about}
        </span>
        {end}
      </header>
      <StaleNote faceOf={faceOf} />
      <div className="paper-body" {...stale}>
        {children}
      </div>
    </section>
  );
}

function FacePaper() {
  const actions = useActions();
  const seamId = useBench((s) => s.sitting.seamId);
  const title = useSeamTitle(seamId);
  const adding = useBench((s) => s.sitting.adding);
  const hasFace = useBench((s) => seamResultOf(s, seamId) !== null);
  const end = (
    <div className="strip-end">
      <FacetButton seamId={seamId} />
      <ToggleButton isSelected={adding} isDisabled={!hasFace} onChange={(is) => actions.sit({ adding: is })}>
        {words.addPeg}
      </ToggleButton>
    </div>
  );
  return (
    <Paper id="face-drawing" title={words.faceDrawing} about={title ?? ''} end={end} faceOf={seamId}>
      {adding && (
        <p className="paper-hint" role="status">
          {words.addPegHint}
        </p>
      )}
      <FaceSheet />
    </Paper>
  );
}

/** Goes on to the next face of a seam that has several. */
function FacetButton({ seamId }: { seamId: string | null }) {
  const actions = useActions();
  const shown = useBench((s) => facetsToShow(s, seamId), isSame);
  const facet = useBench((s) => facetOf(s, seamId));
  if (shown.length < 2) return null;
  const place = shown.indexOf(facet);
  return (
    <Button
      aria-label={words.nextFace(place + 1, shown.length)}
      onPress={() => actions.sit({ facet: shown[(place + 1) % shown.length] ?? null })}
    >
      {words.faceOf(place + 1, shown.length)}
    </Button>
  );
}

const NO_NAMES = { pegged: '', socketed: '' };

function SectionPaper() {
  const actions = useActions();
  const seamId = useBench((s) => s.sitting.seamId);
  const jointId = useBench((s) => s.sitting.jointId);
  const across = useBench((s) => s.sitting.across);
  const section = useBench((s) => s.derived.view?.section ?? null);
  const result = useBench((s) => jointResultOf(s, seamId, jointId));
  const names = useSeam(
    seamId,
    ({ pegOn, names: { front, back } }) =>
      pegOn === 'front' ? { pegged: front, socketed: back } : { pegged: back, socketed: front },
    isSame,
  );
  const place = useSeam(seamId, ({ joints }) => joints.findIndex(({ id }) => id === jointId)) ?? -1;
  const minWallMm = useBench((s) => jobOf(s).process.minWallMm);
  const isOfPeg = section !== null && section.seamId === seamId && section.jointId === jointId;
  return (
    <Paper
      id="section-drawing"
      title={words.sectionDrawing}
      about={names && place >= 0 ? words.peg(place + 1) : ''}
    >
      <SectionDrawing
        section={isOfPeg ? section : null}
        peg={isOfPeg ? result : null}
        names={names ?? NO_NAMES}
        across={across}
        onAcross={actions.setAcross}
        minWallMm={minWallMm}
      />
    </Paper>
  );
}
