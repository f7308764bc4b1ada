import { type KeyboardEvent, memo, useId, useMemo, useRef } from 'react';
import { Input, NumberField, useLocale } from 'react-aria-components';
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

const formatOf = (decimals: number) => ({ maximumFractionDigits: decimals, useGrouping: false });

function Readout({ label, unit, value, decimals = 2 }: FieldProps & { value: number }) {
  const id = useId();
  const { locale } = useLocale();
  const format = useMemo(() => new Intl.NumberFormat(locale, formatOf(decimals)), [locale, decimals]);
  return (
    <div className="num">
      <label htmlFor={id}>{label}</label>
      <span className="num-box">
        <input id={id} className="react-aria-Input" value={format.format(value)} readOnly />
        <span className="num-unit">{unit}</span>
      </span>
    </div>
  );
}

const Field = memo(function Field(props: FieldProps) {
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
      formatOptions={formatOf(decimals)}
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
