/** A text of the document: free, one of a few words, or the name of something else in it. */

import { useEffect, useId, useState } from 'preact/hooks';
import { useBoat, useEditing, useKnown } from '../../session/context.tsx';
import { reworded } from '../words/sentences.ts';
import { choicesFor, choiceWords, pointerAt } from './choices.ts';
import type { ChoiceField, TextField } from './forms.ts';

interface Props<F> {
  readonly field: F;
  /** Undefined where nothing is given. */
  readonly value: string | undefined;
  readonly path: string;
  /** Sets it; undefined takes it out. */
  readonly set: (value: string | undefined) => void;
}

export function TextInput({ field, value, path, set }: Props<TextField>) {
  const { grammar } = useKnown();
  const { document } = useBoat();
  const pointer = pointerAt(grammar, path);
  if (!pointer) return <FreeText field={field} value={value} path={path} set={set} />;
  const choices = choicesFor(pointer, path, document);
  return (
    <Select field={field} value={value} choices={choices} words={choiceWords} set={set}>
      {choices.length === 0 && <small class="about">There is no {bare(pointer.what)} yet.</small>}
    </Select>
  );
}

const bare = (what: string) => what.replace(/^(a|an|the) /, '').replace(/, such as .*/, '');

export const ChoiceInput = ({ field, value, set }: Props<ChoiceField>) => (
  <Select
    field={field}
    value={value}
    choices={field.choices}
    words={(w) => w.replaceAll('_', ' ')}
    set={set}
  />
);

interface SelectProps {
  readonly field: ChoiceField | TextField;
  readonly value: string | undefined;
  readonly choices: readonly string[];
  readonly words: (choice: string) => string;
  readonly set: (value: string | undefined) => void;
  readonly children?: preact.ComponentChildren;
}

function Select({ field, value, choices, words, set, children }: SelectProps) {
  const { readOnly } = useEditing();
  const fallback = typeof field.fallback === 'string' ? field.fallback : undefined;
  const shown = value ?? fallback;
  const known = shown === undefined ? choices : [...new Set([...choices, shown])];
  const none = field.optional ? 'not given' : 'choose';
  return (
    <label class="choice" title={reworded(field.about)}>
      <span>
        {field.label} {field.about !== field.label && <small>{reworded(field.about)}</small>}
      </span>
      <select
        value={shown ?? ''}
        disabled={readOnly}
        onChange={(e) => set(e.currentTarget.value || undefined)}
      >
        {(field.optional || shown === undefined) && <option value="">{none}</option>}
        {known.map((choice) => (
          <option key={choice} value={choice}>
            {words(choice)}
          </option>
        ))}
      </select>
      {children}
    </label>
  );
}

function FreeText({ field, value = '', set }: Props<TextField>) {
  const { readOnly } = useEditing();
  const id = useId();
  const typing = useTextTyping(value, (text) => set(text.trim() === '' ? undefined : text));
  return (
    <p class="choice">
      <label for={id} title={reworded(field.about)}>
        {field.label} {field.about !== field.label && <small>{reworded(field.about)}</small>}
      </label>
      {field.long && field.key === 'note' ? (
        <textarea id={id} rows={2} disabled={readOnly} {...typing} />
      ) : (
        <input id={id} data-kept={value} disabled={readOnly} {...typing} />
      )}
    </p>
  );
}

/** A text being typed, taken on leaving it; it stays while the boat around it is drawn anew. */
export function useTextTyping(value: string, take: (text: string) => void) {
  const [entry, setEntry] = useState<string>();
  useEffect(() => setEntry(undefined), [value]);
  return {
    value: entry ?? value,
    onInput: (e: { currentTarget: { value: string } }) => setEntry(e.currentTarget.value),
    onChange: (e: { currentTarget: { value: string } }) => {
      setEntry(undefined);
      if (e.currentTarget.value !== value) take(e.currentTarget.value);
    },
  };
}

/** Yes, no, or no answer. */
export function YesNo({ field, value, set }: Props<ChoiceField>) {
  return <Select field={field} value={value} choices={['yes', 'no']} words={(w) => w} set={set} />;
}
