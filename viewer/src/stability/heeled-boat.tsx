/** The boat held at a heel: heeled, trimmed and sunk as her righting lever was worked out. */
import { useCallback, useState } from 'preact/hooks';
import type { ConditionResult } from '../contract.ts';
import type { Level } from '../shared/boat/level.ts';
import { centresOf, type Held } from '../shared/boat/levers.ts';
import { heelWords } from '../shared/words/numbers.ts';
import { type From, HeeledView } from './heeled-view.tsx';
import type { Play } from './play.ts';
import { Sections } from './sections.tsx';

const LOOKS = ['sections', 'quarter', 'profile', 'astern'] as const;
type Look = (typeof LOOKS)[number];

const ABOUT: Readonly<Record<Look, string>> = {
  quarter: 'Seen from her low side, from astern; her sections filled where under water.',
  profile: 'Seen from port: sections and GZ are end on.',
  astern: 'Seen along the water, so every height above it is true.',
  sections:
    'Midship section strong, the others thin; deckhouse and cockpit at mid-length. Drag her round to heel her.',
};

interface Props {
  readonly now: ConditionResult;
  readonly held: Held;
  /** Takes the heel that she is turned to by hand. */
  readonly turn: (heel: number) => void;
  readonly play: Play;
}

export function HeeledBoat({ now, held, turn, play }: Props) {
  const [look, setLook] = useState<Look>('sections');
  const [lost, setLost] = useState(false);
  const lose = useCallback(() => {
    setLost(true);
    setLook('sections');
  }, []);
  return (
    <figure class="heeled">
      <div class="heeled-head">
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
        <button type="button" class="play" onClick={play.press}>
          {playWords(play)}
        </button>
      </div>
      {look === 'sections' ? (
        <Sections now={now} held={held} turn={turn} />
      ) : (
        <HeeledView now={now} held={held} from={fromOf(look, held)} lose={lose} />
      )}
      <figcaption>
        <b>{heelWords(held.heel, 1)}</b> <small>{forcesWords(held)}</small>
        <small>
          {lost && 'This browser cannot draw in three dimensions here. '}
          {ABOUT[look]} Openings are circles, filled where under water.
        </small>
      </figcaption>
    </figure>
  );
}

const playWords = ({ playing, still }: Play) => {
  if (still) return 'Heel her 10° more';
  return playing ? 'Stop' : 'Heel her';
};

const forcesWords = (held: Held): string =>
  centresOf(held)
    ? 'Weight acts down through G, buoyancy up through B (keel and deckhouse counted); the distance between them is the righting lever GZ.'
    : 'Where weight and buoyancy act is not kept in this older revision.';

function fromOf(look: Exclude<Look, 'sections'>, { heel }: Level): From {
  if (look === 'quarter') return heel < 0 ? 'port quarter' : 'starboard quarter';
  return look === 'astern' ? 'body' : 'profile';
}
