/** A short entry of a form that is sent as a whole. */

interface Props {
  readonly name: string;
  readonly label: string;
  readonly value?: string;
}

export function Entry({ name, label, value = '' }: Props) {
  return (
    <label class="short">
      <span>{label}</span>
      <input name={name} inputMode="decimal" autocomplete="off" required defaultValue={value} />
    </label>
  );
}

/** A number as typed, with a comma or a point; NaN where it is none. */
export function numberOf(entry: string): number {
  const plain = entry.trim().replace('−', '-').replace(',', '.');
  return plain === '' ? NaN : Number(plain);
}

export const numberIn = (data: FormData, name: string): number =>
  numberOf(String(data.get(name) ?? ''));
