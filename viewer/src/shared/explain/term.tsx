/** A trade term: its meaning on hover and focus; pressed, a card with a link to the Guide. */
import { useId } from 'preact/hooks';
import { TERMS, type TermId } from '../words/meanings.ts';
import { MoreInGuide } from './more-in-guide.tsx';
import { PopoverButton } from './popover-button.tsx';

/** Names in tables and headings, and the term that explains each. */
const NAMES = {
  GZ: 'gz',
  'maximum GZ': 'gz',
  'angle of vanishing stability (AVS)': 'avs',
  'without deckhouse buoyancy': 'avs',
  range: 'range',
  'first unclosed opening': 'downflooding',
  GM: 'gm',
  'roll period, rough': 'roll-period',
} as const satisfies Record<string, TermId>;

type TermName = keyof typeof NAMES;

const isTerm = (name: string): name is TermName => Object.hasOwn(NAMES, name);

export function Term({ name }: { name: TermName }) {
  const id = useId();
  const { title, meaning } = TERMS[NAMES[name]];
  return (
    <span class="term">
      <PopoverButton words={name} label={title} class="term-word" describedBy={id}>
        <p class="opened-title">{title}</p>
        {meaning.map((text) => (
          <p key={text}>{text}</p>
        ))}
        <MoreInGuide entry={NAMES[name]} />
      </PopoverButton>
      <span class="term-meaning" role="tooltip" id={id}>
        {meaning[0]}
      </span>
    </span>
  );
}

/** A name as it stands, or as a term where it is one. */
export const TermOrName = ({ name }: { name: string }) =>
  isTerm(name) ? <Term name={name} /> : <span>{name}</span>;
