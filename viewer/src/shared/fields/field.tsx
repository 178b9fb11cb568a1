/** One number of a form: name, slider, typed value, reset, and why it was refused. */
import { useEffect, useId, useRef, useState } from 'preact/hooks';
import { useEditing } from '../../session/context.tsx';
import { Gesture } from '../../session/working-copy/gesture.ts';
import { reworded } from '../words/sentences.ts';
import { isMetric, unitSign } from '../words/units.ts';
import { WhenEditable } from './editing.tsx';
import { beyondWords, misreadWords, shown, typed, unusual, withUnit } from './field-numbers.ts';
import type { NumberField } from './forms.ts';

interface Props {
  readonly field: NumberField;
  /** Undefined where nothing is given. */
  readonly value: number | undefined;
  readonly original: number | undefined;
  readonly refused: readonly string[];
  readonly disabled?: boolean;
  readonly change: (value: number, gesture: string | null) => void;
  readonly forget: () => void;
  /** Takes the value out again; undefined where one must stand there. */
  readonly clear?: (() => void) | undefined;
}

export function NumberInput({
  field,
  value,
  original,
  refused,
  disabled = false,
  change,
  forget,
  clear,
}: Props) {
  const id = useId();
  const gesture = useRef(new Gesture());
  const [misread, setMisread] = useState(false);
  const reasons = misread ? [] : reasonsOf(field, value, refused);
  const wrong = reasons.length > 0;
  return (
    <div class={`field ${wrong ? 'wrong' : ''}`}>
      <label for={id} title={reworded(field.about)}>
        {reworded(field.label)}
      </label>
      <Typed
        id={id}
        field={field}
        value={value}
        wrong={wrong}
        disabled={disabled}
        change={change}
        misreads={setMisread}
        clear={clear}
      />
      <WhenEditable>
        {field.slider && value !== undefined && (
          <input
            type="range"
            aria-label={`${field.label}, slider`}
            aria-valuetext={value === undefined ? '' : withUnit(field, value)}
            disabled={disabled}
            min={field.low}
            max={field.high}
            step={field.step}
            value={value}
            onPointerDown={() => gesture.current.press()}
            onPointerUp={() => gesture.current.lift()}
            onPointerCancel={() => gesture.current.lift()}
            onInput={(e) =>
              change(Number(e.currentTarget.valueAsNumber.toPrecision(12)), gesture.current.now())
            }
          />
        )}
      </WhenEditable>
      <span class="field-foot">
        <About field={field} value={value} />
        <WhenEditable>
          <Back
            field={field}
            value={value}
            original={original}
            disabled={disabled}
            back={(to) => (refused.length > 0 ? forget() : change(to, null))}
          />
        </WhenEditable>
      </span>
      {reasons.map((sentence) => (
        <p key={sentence} id={`${id}-why`} class="refused" role="alert">
          {reworded(sentence)}
        </p>
      ))}
    </div>
  );
}

/** Why a value was refused; that it is beyond the field's range says it shortest. */
function reasonsOf(field: NumberField, value: number | undefined, refused: readonly string[]) {
  const beyond = refused.length > 0 && value !== undefined && beyondWords(field, value);
  return beyond ? [beyond] : refused;
}

/** That the value is unusual, or else what it is about. */
function About({ field, value }: Pick<Props, 'field' | 'value'>) {
  const warning = value === undefined ? '' : unusual(field, value);
  if (warning) return <span class="unusual">{warning}</span>;
  return <span class="about">{field.about === field.label ? '' : reworded(field.about)}</span>;
}

interface BackProps extends Pick<Props, 'field' | 'value' | 'original'> {
  readonly disabled: boolean;
  readonly back: (to: number) => void;
}

/** Leads back to the value the page was opened with, where it is another. */
function Back({ field, value, original, disabled, back }: BackProps) {
  if (original === undefined || value === undefined) return null;
  if (Math.abs(original - value) <= 1e-9) return null;
  return (
    <button type="button" class="quiet" disabled={disabled} onClick={() => back(original)}>
      back to {withUnit(field, original)}
    </button>
  );
}

interface TypedProps {
  readonly id: string;
  readonly field: NumberField;
  readonly value: number | undefined;
  readonly wrong: boolean;
  readonly disabled: boolean;
  readonly change: Props['change'];
  /** Told whether what stands in the field is no number. */
  readonly misreads?: (misread: boolean) => void;
  readonly clear?: (() => void) | undefined;
  /** Whether its unit stands elsewhere. */
  readonly bare?: boolean;
  /** What takes several cells at once from a spreadsheet; answers whether it did. */
  readonly paste?: (text: string) => boolean;
}

/** The typed value; it is taken with Enter or on leaving, arrow keys step it. */
export function Typed(props: TypedProps) {
  const { id, field, wrong, disabled, bare, paste } = props;
  const { readOnly } = useEditing();
  const { entry, kept, misread, box, setEntry, take, onKeyDown } = useTyping(props);
  return (
    <span class={isMetric() ? 'typed' : 'typed feet'}>
      {readOnly ? (
        <output id={id}>{kept}</output>
      ) : (
        <input
          id={id}
          inputMode={keysFor(field)}
          autocomplete="off"
          disabled={disabled}
          aria-invalid={wrong || misread}
          {...(wrong ? { 'aria-describedby': `${id}-why` } : {})}
          value={entry ?? kept}
          data-kept={kept}
          data-misread={misread}
          ref={box}
          onInput={(e) => setEntry(e.currentTarget.value)}
          onBlur={(e) => entry !== undefined && take(e.currentTarget.value)}
          onKeyDown={onKeyDown}
          onPaste={(e) => {
            if (paste?.(e.clipboardData?.getData('text') ?? '')) e.preventDefault();
          }}
        />
      )}
      {!bare && <span aria-hidden="true">{unitSign(field.unit)}</span>}
      {misread && (
        <span class="refused" role="alert">
          {misreadWords(field)}
        </span>
      )}
    </span>
  );
}

/** Entries of a form that are not numbers, in words; the first of them gets the focus. */
export function misreadIn(form: HTMLElement | null): readonly string[] {
  const inputs = [...(form?.querySelectorAll<HTMLInputElement>('input[data-misread=true]') ?? [])];
  inputs[0]?.focus();
  const named = (input: HTMLInputElement) => input.labels?.[0]?.textContent.replace(/\s+/g, ' ');
  return inputs.map((one) => `${named(one)}: “${one.value.slice(0, 40)}” is not a number.`);
}

/** The keys a phone shows for it. */
const keysFor = ({ whole }: NumberField) => (whole ? 'numeric' : 'decimal');

/** What is being typed, and taking it. */
function useTyping({ field, value, wrong, change, misreads, clear }: TypedProps) {
  const [entry, setEntry] = useState<string>();
  const [misread, setMisread] = useState(false);
  const kept = value === undefined ? '' : shown(field, value);
  const box = useRef<HTMLInputElement>(null);
  const isMisread = (is: boolean) => {
    setMisread(is);
    misreads?.(is);
  };
  const forget = () => {
    setEntry(undefined);
    isMisread(false);
  };
  // a value that comes from elsewhere leaves what is being typed as it is
  useEffect(() => {
    if (document.activeElement !== box.current) forget();
  }, [value]);
  const put = (next: number) => {
    forget();
    // what was refused is tried again: what it did not go with may be another by now
    if (wrong || value === undefined || Math.abs(next - value) > 1e-12) change(next, null);
  };
  const empty = () => {
    forget();
    if (value !== undefined) clear?.();
  };
  const mayBeEmpty = clear !== undefined || value === undefined;
  // what is shown may be rounded: while it is not touched, the value stays as it is
  const take = (text: string) => {
    const next = text === kept ? value : typed(field, text);
    if (next !== undefined) put(next);
    else if (text.trim() === '' && mayBeEmpty) empty();
    else isMisread(true);
  };
  const onKeyDown = (e: KeyboardEvent & { currentTarget: HTMLInputElement }) => {
    const by = { ArrowUp: 1, ArrowDown: -1 }[e.key];
    if (e.key === 'Enter') take(e.currentTarget.value);
    else if (e.key === 'Escape') forget();
    else if (by !== undefined) {
      e.preventDefault();
      forget();
      change(Number(((value ?? 0) + by * field.step).toPrecision(12)), null);
    }
  };
  return { entry, kept, misread, box, setEntry, take, onKeyDown };
}
