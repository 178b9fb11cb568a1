/** A name that becomes a key of the document, and how the file keeps it. */
import { useId, useState } from 'preact/hooks';
import { plainWords } from '../words/plain-words.ts';

interface Props {
  readonly label?: string;
  /** What stands in it at first. */
  readonly proposed?: string;
  readonly keyFor: (name: string) => string;
  /** Told the key with every letter. */
  readonly named?: (key: string) => void;
}

export function NameField({ label = 'name', proposed = '', keyFor, named }: Props) {
  const id = useId();
  const [name, setName] = useState(proposed);
  const key = keyFor(name);
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
            named?.(keyFor(e.currentTarget.value));
          }}
        />
      </label>
      <small id={id}>
        {key && plainWords(key) !== name.trim().toLowerCase() && (
          <>
            kept as <code>{key}</code>
          </>
        )}
      </small>
    </div>
  );
}
