/** A short entry of a form that is sent as a whole. */
import { numberTyped } from '../words/numbers.ts';

interface Props {
  readonly name: string;
  readonly label: string;
  readonly value?: string;
  /** Whether the browser asks for it by itself. */
  readonly isRequired?: boolean;
}

export function ShortInput({ name, label, value = '', isRequired = true }: Props) {
  return (
    <label class="short">
      <span>{label}</span>
      <input
        name={name}
        inputMode="decimal"
        autocomplete="off"
        required={isRequired}
        defaultValue={value}
      />
    </label>
  );
}

export const numberIn = (data: FormData, name: string): number =>
  numberTyped(String(data.get(name) ?? ''));
