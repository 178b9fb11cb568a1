/** Putting in what is not there, and taking it out again. */

import { useEditing, useRoute } from '../../session/context.tsx';
import { hashOf } from '../../session/route.ts';
import { reworded } from '../words/sentences.ts';
import { WhenEditable } from './editing.tsx';
import { beginning, isSteel } from './field-values.ts';
import type { LeafProps } from './leaf.tsx';
import { OpenedForm } from './unsent.tsx';

/** What is not there, and putting it in: steel with usual dimensions, the rest as it is typed. */
export function Absent({ field, path, set }: LeafProps) {
  const { route } = useRoute();
  return (
    <div class="absent">
      <span title={reworded(field.about)}>no {field.label}</span>
      <WhenEditable>
        {field.enteredOn === 'cutting' && (
          <a href={hashOf({ ...route, page: 'cutting' })}>read it on Cutting</a>
        )}
        {!field.enteredOn && isSteel(field) && (
          <button
            type="button"
            class="quiet"
            onClick={() => set(beginning(field))}
            aria-label={`Put in ${field.label}`}
          >
            put in
          </button>
        )}
        {!field.enteredOn && !isSteel(field) && (
          <OpenedForm field={field} path={path} words={`add ${field.label}`} />
        )}
      </WhenEditable>
    </div>
  );
}

export function TakeOut({ field, set }: LeafProps) {
  const { readOnly } = useEditing();
  if (!field.optional || readOnly) return null;
  return (
    <button
      type="button"
      class="quiet"
      onClick={() => set(undefined)}
      aria-label={`Leave out ${field.label}`}
    >
      leave out
    </button>
  );
}
