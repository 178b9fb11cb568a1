/** A term of the trade with its meaning, on hover, focus or tap. */
import { useId } from 'preact/hooks';

/** What the terms of stability mean. */
const TERMS = {
  GZ: 'Righting lever: how far the buoyancy acts to the low side of the weight. Times her weight it is the couple that rights her.',
  'maximum GZ': 'The largest righting lever before it vanishes, and the heel at which she has it.',
  'angle of vanishing stability (AVS)':
    'The heel at which her righting lever is gone: beyond it she turns over by herself.',
  range:
    'From upright to whichever comes first: the AVS, or an opening into the hull that nothing closes going under.',
  'first unclosed opening':
    'Downflooding angle: the heel at which the sea first reaches an opening into the hull that cannot be closed.',
  'without deckhouse buoyancy':
    'The same with the deckhouse giving no buoyancy, as if it flooded at once.',
  GM: 'Metacentric height: how steeply the righting lever rises from upright. Larger is stiffer.',
  'roll period, rough':
    'Seconds of one roll from side to side and back, estimated from beam and GM.',
} as const;

type TermName = keyof typeof TERMS;

const isTerm = (name: string): name is TermName => Object.hasOwn(TERMS, name);

export function Term({ name }: { name: TermName }) {
  const id = useId();
  return (
    <span class="term">
      <button
        type="button"
        class="term-word"
        aria-describedby={id}
        onKeyDown={(e) => e.key === 'Escape' && e.currentTarget.blur()}
      >
        {name}
      </button>
      <span class="term-meaning" role="tooltip" id={id}>
        {TERMS[name]}
      </span>
    </span>
  );
}

/** A name as it stands, or as a term where it is one. */
export const TermOrName = ({ name }: { name: string }) =>
  isTerm(name) ? <Term name={name} /> : <span>{name}</span>;
