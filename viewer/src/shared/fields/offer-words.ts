/** An offered edit in the words of the form it is for. */
import type { Edit, ProblemOffer } from '../../contract.ts';
import { isWithin } from '../answer/findings.ts';
import { numberOr } from '../boat/document.ts';
import { withUnit } from './field-numbers.ts';
import { type Field, fieldAt, type RowField } from './forms.ts';

const MOST_NAMED = 2;

/** A form: the path of what it edits, and its fields. */
export interface WholeForm {
  readonly path: string;
  readonly fields: readonly Field[];
}

/** What an offer for a field sets, such as "620 mm"; what it sets elsewhere is named. */
export function offeredWords(
  form: WholeForm,
  offer: ProblemOffer,
  path: string,
  current: unknown,
): string {
  if (offer.values.length > MOST_NAMED) return 'the proposed dimensions';
  const alone = offer.values.length === 1;
  const words = offer.values.map((one) => {
    const field = fieldOf(form, one.path);
    if (field === undefined) return undefined;
    const isHere = one.path === path;
    return valueWords(field, one.value, {
      current: isHere ? current : undefined,
      alone: alone && isHere,
    });
  });
  const known = words.filter((one) => one !== undefined);
  return known.length === words.length ? known.join(' and ') : offer.sentence;
}

/** The field of a form at a path, where there is one. */
export const fieldOf = ({ path, fields }: WholeForm, at: string): Field | undefined =>
  at.startsWith(`${path}.`) ? fieldAt(fields, at.slice(path.length + 1)) : undefined;

interface Around {
  readonly current: unknown;
  /** Whether it is the only value, and stands in the field itself. */
  readonly alone: boolean;
}

function valueWords(field: Field, value: unknown, { current, alone }: Around): string {
  if (value === null) return `no ${field.label}`;
  if (field.kind === 'number' || field.kind === 'row') {
    const inside =
      field.kind === 'number'
        ? withUnit(field, numberOr(value, 0))
        : rowWords(field, value, current);
    return alone ? inside : `${field.label} ${inside}`;
  }
  return typeof value === 'string' ? `${field.label} ${value}` : `${field.label} as proposed`;
}

/** The numbers of a row that differ from those that stand there. */
function rowWords(field: RowField, value: unknown, current: unknown): string {
  const [row, before] = [value, current].map((one) => (Array.isArray(one) ? one : []));
  return field.fields
    .map((one, i) => ({ one, number: row?.[i], differs: row?.[i] !== before?.[i] }))
    .filter(({ differs }) => differs)
    .map(({ one, number }) => `${one.label} ${withUnit(one, numberOr(number, 0))}`)
    .join(', ');
}

/** The edit that an offer is, with the refused value beside it where it sets another. */
export function offeredSteps(offer: ProblemOffer, path: string, typed: unknown): Edit['steps'] {
  const steps = offer.values.map((one) =>
    one.value === null
      ? ({ op: 'remove', path: one.path } as const)
      : ({ op: 'set', path: one.path, value: one.value } as const),
  );
  const isSet = offer.values.some((one) => isWithin(path, one.path));
  return isSet ? steps : [{ op: 'set', path, value: typed }, ...steps];
}
