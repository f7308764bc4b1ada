import type { KeyboardEvent } from 'react';
import { drawingWords } from '../words.ts';
import { outlinesPath } from './svg-path.ts';
import type { View } from './view.ts';
import './FaceOutlines.css';

/** An outline of the plane that is cut or left whole. */
export interface ChoosableOutline {
  outline: Float64Array;
  isCut: boolean;
}

interface FaceOutlinesProps {
  groups: readonly ChoosableOutline[];
  /** The one that still joins what those cut should part. */
  joining: ChoosableOutline | null;
  view: View;
  onToggle(place: number): void;
}

/** The plane's outlines as buttons: a press cuts one, or leaves it whole. */
export const FaceOutlines = ({ groups, joining, view, onToggle }: FaceOutlinesProps) =>
  groups.map((group, place) => (
    // A shape in a drawing cannot be a <button>, so it is made one here: role, focus and keys together.
    // biome-ignore lint/a11y/useSemanticElements: see above
    <path
      key={place}
      className="face-choice"
      data-testid={`face-choice-${place}`}
      d={outlinesPath(view, [group.outline])}
      data-joins={group === joining || undefined}
      role="button"
      tabIndex={0}
      aria-label={drawingWords.outlineChoice(place)}
      aria-pressed={group.isCut}
      // A press that is about the outline does not take hold of the paper.
      onPointerDown={(event) => event.button === 0 && event.stopPropagation()}
      onClick={() => onToggle(place)}
      onKeyDown={(event: KeyboardEvent) => {
        if (event.key !== 'Enter' && event.key !== ' ') return;
        event.preventDefault();
        event.stopPropagation();
        onToggle(place);
      }}
    />
  ));
