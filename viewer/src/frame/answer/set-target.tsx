/** What is usual to ask of a condition, each set in one press. */
import { useState } from 'preact/hooks';
import type { UsualTarget } from '../../contract.ts';
import { useBoat, useEditing } from '../../session/context.tsx';
import { askedWords, resultWords } from '../../shared/answer/answer-line.ts';
import { targetOf } from '../../shared/answer/ways-out.ts';
import { at, mapping } from '../../shared/boat/document.ts';
import { PopoverButton } from '../../shared/explain/popover-button.tsx';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { freeKey, plainWords, title } from '../../shared/words/plain-words.ts';

export function SetTarget({ usual }: { usual: readonly UsualTarget[] }) {
  const { document, condition } = useBoat();
  const { session } = useEditing();
  const [wrong, setWrong] = useState('');
  const set = async (one: UsualTarget) => {
    const taken = mapping(at(document, 'targets'));
    const isTaken = (key: string) => Object.hasOwn(taken, key);
    const name = isTaken(one.name) ? `${one.name} ${condition}` : one.name;
    const key = freeKey(name, 'target', isTaken);
    const label = `target ${plainWords(key)}`;
    const why = await session.add(`targets.${key}`, targetOf(one), label);
    setWrong(why.join(' '));
  };
  return (
    <PopoverButton words="Set a target" label="Set a target" class="set-target">
      <p class="opened-title">Usual targets, {plainWords(condition)}</p>
      <ul class="usual-targets">
        {usual.map((one) => (
          <li key={one.name}>
            <span>
              {title(resultWords(one.result))}: {askedWords(one)}
            </span>
            <button
              type="button"
              aria-label={`Set: ${resultWords(one.result)} ${askedWords(one)}`}
              onClick={() => void set(one)}
            >
              Set
            </button>
          </li>
        ))}
      </ul>
      <RefusalMessage words={wrong} />
      <p class="about">
        Common practice, scaled to her waterline; no source. Set one, then change it on the Boat
        page. Undo takes it back.
      </p>
    </PopoverButton>
  );
}
