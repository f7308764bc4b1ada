import { memo } from 'react';
import { Button, ListBox, ListBoxItem, Popover, Select, SelectValue } from 'react-aria-components';
import { useSteady } from './use-steady.ts';
import './Choice.css';
import './popover.css';

interface ChoiceProps<K extends string> {
  label: string;
  /** A note is shown in the list only. */
  options: readonly { id: K; text: string; note?: string }[];
  chosen: K | null;
  placeholder?: string;
  onChoose: (id: K) => void;
  isLabelShown?: boolean;
}

/** One of a few words. */
export const Choice = <K extends string>(props: ChoiceProps<K>) => (
  <Field
    {...(props as unknown as ChoiceProps<string>)}
    onChoose={useSteady(props.onChoose) as (id: string) => void}
  />
);

const Field = memo(function Field({
  label,
  options,
  chosen,
  placeholder,
  onChoose,
  isLabelShown = true,
}: ChoiceProps<string>) {
  return (
    <Select
      className="choice"
      aria-label={label}
      value={chosen}
      onChange={(id) => id !== null && onChoose(id as string)}
      placeholder={placeholder ?? ''}
    >
      {isLabelShown && (
        <span className="label" aria-hidden="true">
          {label}
        </span>
      )}
      <Button>
        <SelectValue />
        <span className="choice-mark" aria-hidden="true" />
      </Button>
      <Popover className="popover" placement="bottom start">
        <ListBox items={options}>
          {({ id, text, note }) => (
            <ListBoxItem id={id} textValue={text}>
              {text}
              {note && <span className="option-note numerals"> {note}</span>}
            </ListBoxItem>
          )}
        </ListBox>
      </Popover>
    </Select>
  );
});
