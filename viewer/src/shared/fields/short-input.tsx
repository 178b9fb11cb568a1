/** A short entry of a form that is sent as a whole. */
import { numberTyped } from '../words/numbers.ts';

interface Props {
  readonly name: string;
  readonly label: string;
  readonly value?: string;
}

export function ShortInput({ name, label, value = '' }: Props) {
  return (
    <label class="short">
      <span>{label}</span>
      <input name={name} inputMode="decimal" autocomplete="off" required defaultValue={value} />
    </label>
  );
}

export const numberIn = (data: FormData, name: string): number =>
  numberTyped(String(data.get(name) ?? ''));
