import { type KeyboardEvent, memo, useEffect, useId, useRef, useState } from 'react';
import { FieldError, Input, Label, TextField } from 'react-aria-components';
import { numeral, typedNumeral, words } from '../words.ts';
import { type FieldUnit, readNumber } from './read-number.ts';
import { useSteady } from './use-steady.ts';
import './Num.css';

interface NumProps {
  label: string;
  unit: FieldUnit;
  /** Undefined shows the default as a placeholder. */
  value: number | undefined;
  /** What holds while the field is empty; null where that is not known. Without one the field cannot be emptied. */
  fallback?: number | null | undefined;
  min?: number;
  max?: number;
  /** What an arrow key adds; ten times that with Shift. */
  step: number;
  decimals?: number;
  /** How what is typed is read, where not as any number with its unit. */
  read?: (text: string) => number | null;
  /** Undefined when the field was emptied. Called on Enter, on leaving the field and at each step. */
  onCommit: (value: number | undefined) => void;
  isDisabled?: boolean;
  /** A hand elsewhere is changing the value, many times a second. */
  isHeld?: boolean;
}

const SHIFT_STEPS = 10;

/**
 * A number with its unit. It commits whole values, never half-typed ones. While a hand elsewhere changes it, it is
 * only a readout: a field that can be typed in takes longer to draw than all else that follows the hand.
 */
export function Num({ isHeld = false, ...field }: NumProps) {
  const onCommit = useSteady(field.onCommit);
  const atRest = useRef(field.value);
  if (!isHeld) atRest.current = field.value;
  if (field.value !== undefined && field.value !== atRest.current) {
    return <Readout {...field} value={field.value} />;
  }
  return <Field {...field} onCommit={onCommit} />;
}

type FieldProps = Omit<NumProps, 'isHeld'>;

function Readout({ label, unit, value, decimals = 2 }: FieldProps & { value: number }) {
  const id = useId();
  return (
    <div className="num">
      <label className="react-aria-Label" htmlFor={id}>
        {label}
      </label>
      <span className="num-box">
        <input id={id} className="react-aria-Input" value={typedNumeral(value, decimals)} readOnly />
        <span className="num-unit">{unit}</span>
      </span>
    </div>
  );
}

const Field = memo(function Field(props: FieldProps) {
  const { label, unit, fallback, decimals = 2, isDisabled = false } = props;
  const { text, fault, type, commit, restore, nudge } = useTyping(props);
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>) => {
    const sign = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (sign !== 0) nudge(sign * (event.shiftKey ? SHIFT_STEPS : 1));
    else if (event.key === 'Enter') commit();
    else if (event.key === 'Escape') restore();
    else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <TextField
      className="num"
      value={text}
      onChange={type}
      onBlur={commit}
      isInvalid={fault !== null}
      isDisabled={isDisabled}
    >
      <Label>{label}</Label>
      <span className="num-box">
        <Input
          onKeyDown={onKeyDown}
          inputMode="decimal"
          autoComplete="off"
          placeholder={fallback == null ? '' : numeral(fallback, decimals)}
        />
        <span className="num-unit">{unit}</span>
      </span>
      <FieldError>{fault}</FieldError>
    </TextField>
  );
});

function outOfBounds(value: number, min: number | undefined, max: number | undefined, unit: FieldUnit) {
  if (min !== undefined && value < min) return words.atLeast(min, unit);
  return max !== undefined && value > max ? words.atMost(max, unit) : null;
}

/** What is being typed, until it is a value: what is not understood, or out of bounds, stays and is told. */
function useTyping(field: FieldProps) {
  const { unit, value, fallback, min, max, step, decimals = 2, onCommit } = field;
  const readTyped = field.read ?? ((text: string) => readNumber(text, unit));
  const shown = value === undefined ? '' : typedNumeral(value, decimals);
  const [typed, setTyped] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const restore = () => {
    setTyped(null);
    setFault(null);
  };
  // A value that came from elsewhere takes the place of what was being typed.
  useEffect(restore, [value]);

  function commit(): void {
    if (typed === null || typed === shown || typed.trim() === '') restore();
    if (typed === null || typed === shown) return;
    if (typed.trim() === '') {
      if (fallback !== undefined && value !== undefined) onCommit(undefined);
      return;
    }
    const read = readTyped(typed);
    const wrong = read === null ? words.notANumber(typed) : outOfBounds(read, min, max, unit);
    setFault(wrong);
    if (wrong !== null || read === null) return;
    setTyped(null);
    const tidy = Number(read.toFixed(6));
    if (tidy !== value) onCommit(tidy);
  }
  function nudge(steps: number): void {
    const from = (typed === null ? null : readTyped(typed)) ?? value ?? fallback ?? 0;
    const to = from + steps * step;
    restore();
    onCommit(Number(Math.min(max ?? to, Math.max(min ?? to, to)).toFixed(6)));
  }
  const type = (next: string) => {
    setTyped(next);
    setFault(null);
  };
  return { text: typed ?? shown, fault, type, commit, restore, nudge };
}
