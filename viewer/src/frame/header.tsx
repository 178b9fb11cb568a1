/** Whose boat this is, which pages there are, which state is looked at, and taking back. */
import { useRef, useState } from 'preact/hooks';
import {
  useBoat,
  useEditing,
  useKnown,
  useReview,
  useRoute,
  useSnapshot,
  useTheme,
  useWritten,
} from '../session/context.tsx';
import { shortHash } from '../session/review.ts';
import { leave } from '../session/review-api.ts';
import { whyNot } from '../session/review-store.ts';
import { hashOf, NEED_A_SERVER, PAGES, WITHOUT_TAB } from '../session/route.ts';
import { savedWord } from '../session/working-copy/snapshot.ts';
import { assumedIn } from '../shared/boat/assumed.ts';
import { at, mapping } from '../shared/boat/document.ts';
import { useEscape } from '../shared/feedback/use-escape.ts';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { choiceOf } from '../shared/words/choice.ts';
import { optionWords, plainWords, title } from '../shared/words/plain-words.ts';
import { BoatList } from './boat-list.tsx';
import { Options } from './options.tsx';

/** All of it; on a phone what is chosen once folds under the name. */
export function Head() {
  const [open, setOpen] = useState(false);
  return (
    <div class={`head-all ${open ? 'open' : ''}`}>
      <SkipLink />
      <header class="head">
        <Names open={open} turn={() => setOpen(!open)} />
        <PageLinks />
        <Tools />
      </header>
      <Register />
    </div>
  );
}

/** Past the head, for whoever goes by keys. */
function SkipLink() {
  const skip = (e: Event) => {
    e.preventDefault(); // the address names the page, and keeps it
    document.querySelector('main')?.focus();
  };
  return (
    // biome-ignore lint/a11y/useValidAnchor: it goes to a place of the page; the hash is the route's
    <a class="skip" href="#main" onClick={skip}>
      Skip to the page
    </a>
  );
}

/** The name; on a phone what is looked at stands below it, and unfolds. */
function Names({ open, turn }: { open: boolean; turn: () => void }) {
  const { working, condition } = useBoat();
  const { route } = useRoute();
  const snapshot = useSnapshot();
  const isWorking = route.revision === undefined;
  const words = [
    plainWords(condition),
    optionWords(route.option),
    isWorking ? savedWord(snapshot, working) : `revision ${route.revision}`,
  ];
  const button = useRef<HTMLButtonElement>(null);
  useEscape(open, turn, button);
  return (
    <div class="boat">
      <h1 title={working.assessment.boat}>{working.assessment.boat}</h1>
      <button
        ref={button}
        type="button"
        class="quiet head-fold"
        aria-expanded={open}
        onClick={turn}
      >
        <span>{words.join(' · ')}</span>
      </button>
      <span class="folds">
        <WhenEditable>
          <BoatList />
        </WhenEditable>
      </span>
    </div>
  );
}

function PageLinks() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { inFile } = useKnown();
  const begun = route.page === 'start' || assumedIn(working.document).length > 0;
  return (
    <nav class="pages" aria-label="Pages">
      {PAGES.filter(
        (page) =>
          !WITHOUT_TAB.includes(page) &&
          (page !== 'start' || begun) &&
          (!NEED_A_SERVER.includes(page) || !inFile),
      ).map((page) => (
        <a
          key={page}
          href={hashOf({ ...route, page })}
          {...(page === route.page ? { 'aria-current': 'page' as const } : {})}
        >
          {title(page)}
        </a>
      ))}
    </nav>
  );
}

function Tools() {
  const { working } = useBoat();
  const { session } = useEditing();
  const { dark, toggleTheme } = useTheme();
  useWritten(); // what opens from here shows numbers too
  return (
    <div class="tools">
      <WhenEditable>
        <UndoOrRedo
          way="undo"
          word="Undo"
          label={working.undo_label}
          may={working.can_undo}
          go={() => session.undoOrRedo('undo')}
        />
        <UndoOrRedo
          way="redo"
          word="Redo"
          label={working.redo_label}
          may={working.can_redo}
          go={() => session.undoOrRedo('redo')}
        />
      </WhenEditable>
      <Leaving />
      <Units />
      <button type="button" class="quiet folds" onClick={toggleTheme}>
        {dark ? 'Light' : 'Dark'}
      </button>
    </div>
  );
}

/** How lengths and masses are written, on every page and in print. */
function Units() {
  const { writing, write } = useWritten();
  return (
    <details class="units folds">
      <summary>Units</summary>
      <div>
        <label>
          units{' '}
          <select
            value={writing.units}
            onChange={(e) => write({ units: choiceOf(UNITS, e.currentTarget.value) ?? 'metric' })}
          >
            <option value="metric">metric</option>
            <option value="feet and inches">feet and inches, pounds, US gallons</option>
          </select>
        </label>
        <label>
          decimals{' '}
          <select
            value={writing.decimal}
            onChange={(e) => write({ decimal: choiceOf(DECIMALS, e.currentTarget.value) ?? '.' })}
          >
            <option value=".">point: 1.5</option>
            <option value=",">comma: 1,5</option>
          </select>
        </label>
      </div>
    </details>
  );
}

const UNITS = ['metric', 'feet and inches'] as const;
const DECIMALS = ['.', ','] as const;

/** What is looked at, and whether it is signed: on every page. */
function State() {
  const { working } = useBoat();
  const { route } = useRoute();
  const { standing, signable } = useReview();
  const { inFile } = useKnown();
  const snapshot = useSnapshot();
  const what = signable
    ? `${inFile ? 'read only · ' : ''}${signable.words} · ${shortHash(signable.sha256)}`
    : `revision ${route.revision}`;
  const isWorking = !signable && route.revision === undefined;
  return (
    <p class="state" title={standing && [standing.sentence, ...standing.conflicts].join(' ')}>
      {isWorking ? (
        <>
          <span class="what">edit {working.edit} · </span>
          {savedWord(snapshot, working)}
          <span class="what"> in {working.kept_in}</span> ·{' '}
        </>
      ) : (
        <span class="what">{what} · </span>
      )}
      <b>{standing?.standing ?? '…'}</b>
    </p>
  );
}

/** Back from what is only looked at. */
function Leaving() {
  const { visitor, inFile } = useKnown();
  const { route, go } = useRoute();
  const { session } = useEditing();
  if (inFile) return null;
  if (visitor.role === 'reviewer') {
    const forget = async () => {
      await leave();
      location.replace('./');
    };
    const refused = (error: unknown) =>
      session.say(`You are still in the review. ${whyNot(error)}`);
    return (
      <button type="button" class="quiet" onClick={() => forget().catch(refused)}>
        Leave the review
      </button>
    );
  }
  if (route.revision === undefined) return null;
  return (
    <button type="button" class="quiet" onClick={() => go({ revision: undefined })}>
      Back to the working copy
    </button>
  );
}

interface HistoryStepProps {
  readonly way: 'undo' | 'redo';
  readonly word: string;
  readonly label: string;
  readonly may: boolean;
  readonly go: () => void;
}

function UndoOrRedo({ way, word, label, may, go }: HistoryStepProps) {
  return (
    <button
      type="button"
      class={`quiet travel ${way}`}
      disabled={!may}
      title={label && `${word}: ${label}`}
      onClick={go}
    >
      {word}
      {may && label && <span class="what"> {label}</span>}
    </button>
  );
}

/** The row of loading conditions, the option, and whether it is saved and reviewed. */
function Register() {
  const { condition, document } = useBoat();
  const { go } = useRoute();
  const conditions = Object.keys(mapping(at(document, 'conditions')));
  const listed = conditions.length > 0 ? conditions : [condition];
  return (
    <section class="register" aria-label="What is shown">
      <fieldset class="conditions">
        <legend class="unseen">Loading condition</legend>
        {listed.map((id) => (
          <label key={id} class={id === condition ? 'chosen' : ''}>
            <input
              type="radio"
              name="condition"
              checked={id === condition}
              onChange={() => go({ condition: id })}
            />
            {plainWords(id)}
          </label>
        ))}
      </fieldset>
      <Options />
      <State />
    </section>
  );
}
