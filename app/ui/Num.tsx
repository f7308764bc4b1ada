import { type KeyboardEvent, memo, useId } from 'react';
import { Input, NumberField } from 'react-aria-components';
import { useSteady } from './use-steady.ts';

interface NumProps {
  label: string;
  unit: string;
  /** Undefined shows the default as a placeholder. */
  value: number | undefined;
  /** What holds while the field is empty. */
  fallback?: number | undefined;
  min?: number;
  max?: number;
  /** What an arrow key adds; ten times that with Shift. */
  step: number;
  decimals?: number;
  /** Undefined when the field was emptied. Called on Enter, on leaving the field and at each step. */
  onCommit: (value: number | undefined) => void;
  isDisabled?: boolean;
}

const SHIFT_STEPS = 10;

/** A number with its unit. It commits whole values, never half-typed ones. */
export const Num = (props: NumProps) => <Field {...props} onCommit={useSteady(props.onCommit)} />;

const Field = memo(function Field(props: NumProps) {
  const { label, unit, value, fallback, min, max, step, decimals = 2, onCommit, isDisabled = false } = props;
  const id = useId();
  const commit = (next: number) => {
    if (Number.isNaN(next) && fallback === undefined) return;
    const asked = Number.isNaN(next) ? undefined : next;
    if (asked !== value) onCommit(asked);
  };
  const nudge = (event: KeyboardEvent<HTMLInputElement>) => {
    const sign = event.key === 'ArrowUp' ? 1 : event.key === 'ArrowDown' ? -1 : 0;
    if (sign === 0) return;
    event.preventDefault();
    event.stopPropagation();
    const typed = readNumber(event.currentTarget.value);
    const from = typed ?? value ?? fallback ?? 0;
    const to = from + sign * step * (event.shiftKey ? SHIFT_STEPS : 1);
    commit(Number(Math.min(max ?? to, Math.max(min ?? to, to)).toFixed(6)));
  };
  return (
    <NumberField
      id={id}
      className="num"
      aria-label={label}
      value={value ?? Number.NaN}
      onChange={commit}
      {...(min !== undefined && { minValue: min })}
      {...(max !== undefined && { maxValue: max })}
      formatOptions={{ maximumFractionDigits: decimals, useGrouping: false }}
      isWheelDisabled
      isDisabled={isDisabled}
    >
      <label htmlFor={id}>{label}</label>
      <span className="num-box">
        <Input
          onKeyDownCapture={nudge}
          placeholder={fallback === undefined ? '' : fallback.toFixed(decimals)}
        />
        <span className="num-unit">{unit}</span>
      </span>
    </NumberField>
  );
});

/** A number half typed in a field; null where it is none yet. */
function readNumber(text: string): number | null {
  const number = Number.parseFloat(text.replace('\u2212', '-'));
  return Number.isFinite(number) ? number : null;
}
