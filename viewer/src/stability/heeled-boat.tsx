/** The boat held at a heel: heeled, trimmed and sunk as her righting lever was worked out. */
import { useCallback, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import type { Level } from '../shared/boat/level.ts';
import type { Held } from '../shared/boat/levers.ts';
import { heelWords } from '../shared/words/numbers.ts';
import { type From, HeeledView } from './heeled-view.tsx';
import { Sections } from './sections.tsx';

const LOOKS = ['quarter', 'profile', 'astern', 'sections'] as const;
type Look = (typeof LOOKS)[number];

const ABOUT: Readonly<Record<Look, string>> = {
  quarter: 'Seen from her low side, from astern.',
  profile: 'Seen from port.',
  astern: 'Seen along the water, so every height above it is true.',
  sections:
    'As she floats: midship section strong, the others thin; house and cockpit at their mid-length. Seen along the water, so every height above it is true.',
};

interface Props {
  readonly now: ConditionResult;
  readonly held: Held;
}

export function HeeledBoat({ now, held }: Props) {
  const [look, setLook] = useState<Look>('quarter');
  const [lost, setLost] = useState(false);
  const lose = useCallback(() => {
    setLost(true);
    setLook('sections');
  }, []);
  return (
    <figure class="heeled">
      <fieldset class="segments">
        <legend class="unseen">Look at her heeled</legend>
        {LOOKS.map((one) => (
          <button
            key={one}
            type="button"
            aria-pressed={look === one}
            disabled={lost && one !== 'sections'}
            onClick={() => setLook(one)}
          >
            {one}
          </button>
        ))}
      </fieldset>
      {look === 'sections' ? (
        <Sections now={now} held={held} />
      ) : (
        <HeeledView now={now} held={held} from={fromOf(look, held)} lose={lose} />
      )}
      <figcaption>
        <b>{heelWords(held.heel, 1)}</b>{' '}
        <small>
          {lost && 'This browser cannot draw in three dimensions here. '}
          {ABOUT[look]} Openings are circles, filled where under water.
        </small>
      </figcaption>
    </figure>
  );
}

function fromOf(look: Exclude<Look, 'sections'>, { heel }: Level): From {
  if (look === 'quarter') return heel < 0 ? 'port quarter' : 'starboard quarter';
  return look === 'astern' ? 'body' : 'profile';
}
