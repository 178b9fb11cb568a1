/** Values under dotted paths, as an option sets them. */

import { useId, useState } from 'preact/hooks';
import { useBoat } from '../../session/context.tsx';
import { isMapping, type Mapping } from '../boat/document.ts';
import { reworded } from '../words/sentences.ts';
import { WhenEditable } from './editing.tsx';
import type { Field } from './forms.ts';
import { useTextTyping } from './text-input.tsx';

interface Props {
  readonly field: Field;
  readonly path: string;
  readonly set: (value: Mapping) => void;
  readonly value: Mapping;
}

export function Paths({ field, value, set }: Props) {
  const { document } = useBoat();
  const id = useId();
  const [path, setPath] = useState('');
  const [entry, setEntry] = useState('');
  const put = (at: string, text: string) => set({ ...value, [at]: valueTyped(text) });
  return (
    <fieldset class="group">
      <legend>{field.label}</legend>
      <p class="about">{reworded(field.about)}</p>
      {Object.entries(value).map(([at, one]) => (
        <p key={at} class="choice">
          <ValueInput at={at} value={textOf(one)} take={(text) => put(at, text)} />
          <WhenEditable>
            <button
              type="button"
              class="quiet"
              aria-label={`Delete ${at}`}
              onClick={() =>
                set(Object.fromEntries(Object.entries(value).filter(([key]) => key !== at)))
              }
            >
              delete
            </button>
          </WhenEditable>
        </p>
      ))}
      <WhenEditable>
        <p class="choice new-path">
          <label>
            path <input value={path} list={id} onInput={(e) => setPath(e.currentTarget.value)} />
            <datalist id={id}>
              {leafPaths(document).map((one) => (
                <option key={one} value={one} />
              ))}
            </datalist>
          </label>
          <label>
            value <input value={entry} onInput={(e) => setEntry(e.currentTarget.value)} />
          </label>
          <button
            type="button"
            disabled={!path || !entry}
            onClick={() => {
              put(path.trim(), entry);
              setPath('');
              setEntry('');
            }}
          >
            Set it
          </button>
        </p>
      </WhenEditable>
    </fieldset>
  );
}

interface ValueProps {
  readonly at: string;
  readonly value: string;
  readonly take: (text: string) => void;
}

function ValueInput({ at, value, take }: ValueProps) {
  const typing = useTextTyping(value, take);
  return (
    <label>
      <code>{at}</code> <input {...typing} />
    </label>
  );
}

const textOf = (value: unknown) => (typeof value === 'string' ? value : JSON.stringify(value));

/** A typed text as JSON where it is such, as a text where it is not. */
function valueTyped(text: string): unknown {
  try {
    return JSON.parse(text.trim().replace(/^(-?\d+),(\d+)$/, '$1.$2'));
  } catch {
    return text.trim();
  }
}

/** Paths of the single values of a document, but for those in lists and of options. */
function leafPaths(value: unknown, path = ''): readonly string[] {
  if (!isMapping(value)) return path && !Array.isArray(value) ? [path] : [];
  return Object.entries(value)
    .filter(([key]) => path || key !== 'options')
    .flatMap(([key, inner]) => leafPaths(inner, path ? `${path}.${key}` : key));
}
