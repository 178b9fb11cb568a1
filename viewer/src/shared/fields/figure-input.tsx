/** A typed figure of the document, without a slider; kept with Enter or on leaving. */

import { useEffect, useId, useState } from 'preact/hooks';
import { useEditing, useSnapshot } from '../../session/context.tsx';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { reworded } from '../words/sentences.ts';
import { Typed } from './field.tsx';
import { numberField } from './field-numbers.ts';

interface Props {
  readonly label: string;
  readonly unit: string;
  readonly path: string;
  readonly value: number | undefined;
  /** What it belongs to, for undo and for the screen reader. */
  readonly what: string;
  /** From the document's unit to the shown one. */
  readonly factor?: number;
  /** Whether its unit stands elsewhere. */
  readonly bare?: boolean;
  readonly step?: number;
  /** The whole value at the path where the figure is one of several. */
  readonly within?: (value: number) => unknown;
  /** Whether the document may leave it out. */
  readonly optional?: boolean;
}

export function FigureInput({
  label,
  unit,
  path,
  value,
  what,
  factor = 1,
  bare = false,
  step = 0.01,
  within,
  optional = false,
}: Props) {
  const { session } = useEditing();
  const snapshot = useSnapshot();
  const id = useId();
  const refused = reasonsAt(snapshot, path);
  // of several figures at one path the one that was typed keeps what was refused
  const [tried, setTried] = useState<number>();
  const isRefused = refused.length > 0 && (!within || tried !== undefined);
  useEffect(() => {
    if (refused.length === 0) setTried(undefined);
  }, [refused.length, value]);
  const ofSeveral = isRefused ? tried : undefined;
  const draft = within ? ofSeveral : snapshot.drafts.get(path)?.value;
  const field = numberField(label, { unit, factor, step });
  return (
    <span class={`figure-input ${isRefused ? 'wrong' : ''}`} data-path={path}>
      <label for={id}>
        <span class="unseen">{what}, </span>
        {label}
      </label>
      <Typed
        id={id}
        field={field}
        value={typeof draft === 'number' ? draft : value}
        wrong={isRefused}
        disabled={false}
        bare={bare}
        clear={
          optional
            ? () => session.send([{ op: 'remove', path }], `no ${label} of ${what}`)
            : undefined
        }
        change={(next) => {
          setTried(next);
          session.set(path, within ? within(next) : next, `${label} of ${what}`);
        }}
      />
      {(isRefused ? refused : []).map((s) => (
        <span key={s} id={`${id}-why`} class="refused" role="alert">
          {reworded(s)}
        </span>
      ))}
    </span>
  );
}
