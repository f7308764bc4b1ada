import { useEffect, useRef } from 'react';
import { Button } from 'react-aria-components';
import type { Severity } from '../../src/index.ts';
import { useInSight } from '../ui/use-in-sight.ts';
import { SeverityMark } from './SeverityMark.tsx';
import './EntryButton.css';

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

/** A row of the tree that a person chooses, with the gravest of what was found about it. */
export function EntryButton({
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
