import { useEffect, useState } from 'react';
import { Input, TextField } from 'react-aria-components';
import './Words.css';

interface WordsProps {
  label: string;
  value: string;
  /** The label is for those who hear it: what is around says it to those who see. */
  isBare?: boolean;
  mostLetters?: number;
  onCommit: (value: string) => void;
}

/** A short text that commits on Enter or on leaving; an empty one goes back to what it was. */
export function Words({ label, value, isBare = false, mostLetters = 80, onCommit }: WordsProps) {
  const [text, setText] = useState(value);
  useEffect(() => setText(value), [value]);
  const commit = () => {
    const trimmed = text.trim();
    if (trimmed === '') setText(value);
    else if (trimmed !== value) onCommit(trimmed);
  };
  return (
    <TextField
      className="words"
      aria-label={label}
      value={text}
      onChange={setText}
      onBlur={commit}
      maxLength={mostLetters}
    >
      {!isBare && (
        <span className="label" aria-hidden="true">
          {label}
        </span>
      )}
      <Input onKeyDown={(event) => event.key === 'Enter' && commit()} />
    </TextField>
  );
}
