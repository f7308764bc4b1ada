import { Button, ListBox, ListBoxItem, Popover, Select, SelectValue } from 'react-aria-components';

interface ChoiceProps<K extends string> {
  label: string;
  options: readonly { id: K; text: string }[];
  chosen: K | null;
  placeholder?: string;
  onChoose: (id: K) => void;
  isLabelShown?: boolean;
}

/** One of a few words. */
export function Choice<K extends string>({
  label,
  options,
  chosen,
  placeholder,
  onChoose,
  isLabelShown = true,
}: ChoiceProps<K>) {
  return (
    <Select
      className="choice"
      aria-label={label}
      value={chosen}
      onChange={(id) => id !== null && onChoose(id as K)}
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
          {(option) => <ListBoxItem id={option.id}>{option.text}</ListBoxItem>}
        </ListBox>
      </Popover>
    </Select>
  );
}
