/** A name that becomes a key of the document, and how the file keeps it. */
import { useId, useState } from 'preact/hooks';
import { useEditing } from '../../session/context.tsx';
import { keyWords } from '../words/plain-words.ts';

interface Props {
  readonly label?: string;
  /** What stands in it at first. */
  readonly proposed?: string;
  readonly keyFor: (name: string) => string;
  /** Told the key with every letter. */
  readonly named?: (key: string) => void;
}

/** Whether a key in words is the name itself. */
const saysAll = (key: string, name: string) => keyWords(key) === name.trim().toLowerCase();

export function NameField({ label = 'name', proposed = '', keyFor, named }: Props) {
  const id = useId();
  const [name, setName] = useState(proposed);
  const { session } = useEditing();
  const key = keyFor(name);
  const tell = (typed: string) => {
    const own = keyFor(typed);
    session.called(own, saysAll(own, typed) ? '' : typed.trim());
    named?.(own);
  };
  return (
    <div class="named">
      <label>
        <span>{label}</span>
        <input
          name="name"
          required
          value={name}
          aria-describedby={id}
          onInput={(e) => {
            setName(e.currentTarget.value);
            tell(e.currentTarget.value);
          }}
        />
      </label>
      <small id={id}>
        {key && !saysAll(key, name) && (
          <>
            kept as <code>{key}</code>
          </>
        )}
      </small>
    </div>
  );
}
