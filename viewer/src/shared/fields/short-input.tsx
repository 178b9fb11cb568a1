/** A short entry of a form that is sent as a whole. */
import { quantityTyped } from '../words/typed.ts';
import { unitSign } from '../words/units.ts';

interface Props {
  readonly name: string;
  readonly label: string;
  /** What is typed, and what stands behind its unit. */
  readonly unit: string;
  readonly after?: string;
  readonly value?: string;
  /** Whether the browser asks for it by itself. */
  readonly isRequired?: boolean;
}

export function ShortInput(props: Props) {
  const { name, label, unit, after = '', value = '', isRequired = true } = props;
  return (
    <label class="short">
      <span>
        {label}, {unitSign(unit)}
        {after && ` ${after}`}
      </span>
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

/** What was typed there, in `unit`; NaN where it is none. */
export const quantityIn = (data: FormData, name: string, unit: string): number =>
  quantityTyped(String(data.get(name) ?? ''), unit);
