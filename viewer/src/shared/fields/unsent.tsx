/** A value that is filled in before it is sent: nothing of it stands in the document until then. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { useBoat, useEditing } from '../../session/context.tsx';
import { proposalOf } from '../../session/proposals-api.ts';
import { type Mapping, mapping } from '../boat/document.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { useTakeBack } from '../feedback/use-take-back.tsx';
import { misreadIn } from './field.tsx';
import { begun, blank, filledIn, missingIn } from './field-values.ts';
import type { Field } from './forms.ts';
import { Inside } from './inside.tsx';

interface Props {
  readonly field: Field;
  /** Where it goes; what it may name follows from that. */
  readonly path: string;
  readonly label: string;
  readonly button: string;
  /** Sends it, and answers why it was not taken: nothing where it was. */
  readonly send: (value: unknown) => Promise<readonly string[]>;
  readonly done: () => void;
  /** What is known of it already. */
  readonly begin?: Mapping;
  readonly children?: ComponentChildren;
}

export function UnsentForm({ field, path, label, button, send, done, begin, children }: Props) {
  const [value, setValue] = useState<unknown>(() =>
    begin ? { ...mapping(blank(field)), ...begin } : begun(field),
  );
  const { put, line } = useTakeBack(value, setValue);
  const fitting = useFitting(path, value, setValue);
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const submit = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    event.stopPropagation();
    const misread = misreadIn(event.currentTarget);
    if (misread.length > 0) return setWrong(misread);
    const whole = filledIn(value);
    const missing = missingIn(field, whole);
    const why =
      missing.length > 0 ? [`Still to fill in: ${missing.join(', ')}.`] : await send(whole);
    setWrong(why);
    return why.length === 0 ? done() : undefined;
  };
  return (
    <form
      class="draft"
      onSubmit={submit}
      onKeyDown={keepOpen}
      aria-label={label}
      aria-busy={fitting.isLooking}
    >
      {children}
      {fitting.words && (
        <p class="about" role="status">
          {fitting.words}
        </p>
      )}
      <div class="field-at" data-path={path}>
        <Inside field={field} value={value} path={path} set={put} />
      </div>
      {line}
      <p class="adding-do">
        <button type="submit">{button}</button>
        <button type="button" class="quiet" onClick={done}>
          cancel
        </button>
      </p>
      {wrong.map((sentence) => (
        <RefusalMessage key={sentence} words={sentence} />
      ))}
    </form>
  );
}

/** Enter takes a value; it does not send the whole form. */
function keepOpen(event: KeyboardEvent) {
  if (event.key === 'Enter' && event.target instanceof HTMLInputElement) event.preventDefault();
}

interface OpenedProps {
  readonly field: Field;
  readonly path: string;
  readonly words: string;
  /** Sends it; put at the path where left out. */
  readonly send?: (value: unknown) => Promise<readonly string[]>;
}

/** A button that opens the form of what is not there yet. */
export function OpenedForm({ field, path, words, send }: OpenedProps) {
  const { session } = useEditing();
  const [open, setOpen] = useState(false);
  if (!open) {
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        {words}
      </button>
    );
  }
  return (
    <UnsentForm
      field={field}
      path={path}
      label={words}
      button="Use it"
      send={send ?? ((value) => session.add(path, value, field.label))}
      done={() => setOpen(false)}
    />
  );
}

/** The change that a part at a path is one of, empty for an existing one; undefined for the rest. */
function changeOf(path: string): string | undefined {
  if (/^existing\.[^.]+$/.test(path)) return '';
  return /^changes\.([^.]+)\.parts\.[^.]+$/.exec(path)?.[1];
}

type SetValue = (change: (before: unknown) => unknown) => void;

/** How its dimensions were chosen, or why there are none; they replace what was just begun. */
function useFitting(path: string, value: unknown, setValue: SetValue) {
  const { working } = useBoat();
  const { refit, option } = working;
  const change = changeOf(path);
  const kind = String(mapping(value).kind ?? '');
  const [found, setFound] = useState({ kind: '', sentence: '' });
  const isAsked = change !== undefined && kind !== '';
  useEffect(() => {
    if (!isAsked) return undefined;
    const leaving = new AbortController();
    const place = change === '' ? { refit, option } : { refit, option, change };
    // where it cannot be asked the usual dimensions stand
    proposalOf(place, kind, leaving.signal).then(
      (one) => {
        setValue((before) => (before === value ? (one?.dimensions ?? before) : before));
        setFound({ kind, sentence: one?.sentence ?? '' });
      },
      () => leaving.signal.aborted || setFound({ kind, sentence: '' }),
    );
    return () => leaving.abort();
  }, [refit, option, change, kind]);
  const isLooking = isAsked && found.kind !== kind;
  const sentence = isAsked ? found.sentence : '';
  return { isLooking, words: isLooking ? 'Fitting to the hull…' : sentence };
}
