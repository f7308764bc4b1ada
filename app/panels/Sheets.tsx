import type { ReactNode } from 'react';
import { ToggleButton } from 'react-aria-components';
import { SectionDrawing } from '../drawings/SectionDrawing.tsx';
import { words } from '../messages.ts';
import { jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { useActions, useBench } from '../state/workbench.tsx';
import { FaceSheet } from './FaceSheet.tsx';

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
  children: ReactNode;
}

function Paper({ id, title, about, end, children }: PaperProps) {
  return (
    <section className="paper" aria-labelledby={`${id}-title`} data-testid={id}>
      <header className="paper-strip">
        <h2 id={`${id}-title`}>{title}</h2>
        <span className="soft">{about}</span>
        {end}
      </header>
      <div className="paper-body">{children}</div>
    </section>
  );
}

function FacePaper() {
  const actions = useActions();
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const adding = useBench((s) => s.sitting.adding);
  const hasFace = useBench((s) => s.derived.view?.seams.some(({ id }) => id === s.sitting.seamId) ?? false);
  const add = (
    <ToggleButton
      className="strip-end"
      isSelected={adding}
      isDisabled={!hasFace}
      onChange={(is) => actions.sit({ adding: is })}
    >
      {words.addPeg}
    </ToggleButton>
  );
  return (
    <Paper
      id="face-drawing"
      title={words.faceDrawing}
      about={seam ? words.seamTitle(seam.names.front, seam.names.back) : ''}
      end={add}
    >
      {adding && (
        <p className="paper-hint" role="status">
          {words.addPegHint}
        </p>
      )}
      <FaceSheet />
    </Paper>
  );
}

function SectionPaper() {
  const actions = useActions();
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const { pegIndex, across } = useBench((s) => s.sitting);
  const view = useBench((s) => s.derived.view);
  const section = view?.section ?? null;
  const result =
    view?.seams.find((one) => one.id === seam?.id)?.pegs.find((one) => one.index === pegIndex) ?? null;
  const minWallMm = useBench((s) => jobOf(s).process.minWallMm);
  const isOfPeg = section !== null && section.seamId === seam?.id && section.pegIndex === pegIndex;
  const sides =
    seam?.pegOn === 'front'
      ? { pegged: seam.names.front, socketed: seam.names.back }
      : { pegged: seam?.names.back ?? '', socketed: seam?.names.front ?? '' };
  return (
    <Paper
      id="section-drawing"
      title={words.sectionDrawing}
      about={seam && pegIndex !== null ? words.peg(pegIndex + 1) : ''}
    >
      <SectionDrawing
        section={isOfPeg ? section : null}
        peg={isOfPeg ? result : null}
        names={sides}
        across={across}
        onAcross={actions.setAcross}
        minWallMm={minWallMm}
      />
    </Paper>
  );
}
