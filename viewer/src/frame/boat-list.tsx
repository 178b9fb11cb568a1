/** Your boats: each with a small picture and where its file lies; new ones, copies, examples. */
import { useEffect, useId, useState } from 'preact/hooks';
import type { ExampleCard, Outline, RefitCard } from '../contract.ts';
import * as api from '../session/api.ts';
import { useBoat, useKnown, useRoute } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { Archives } from './archives.tsx';
import { DeleteBoat, DeletedBoats } from './deleted-boats.tsx';
import { BeginBoat, show } from './new-boat.tsx';

export function BoatList() {
  const { refits } = useKnown();
  const { working } = useBoat();
  const { go } = useRoute();
  const id = useId();
  const [turn, setTurn] = useState(0);
  const open = (boat: string) =>
    go({ boat, condition: undefined, option: null, picked: undefined });
  return (
    <>
      <button type="button" class="quiet" popovertarget={id}>
        Boats
      </button>
      <div
        id={id}
        popover="auto"
        class="opened boats"
        onToggle={(e) => e.newState === 'open' && setTurn(turn + 1)}
      >
        <h3>Your boats</h3>
        {turn > 0 && (
          <ul class="boat-cards">
            {refits.map((card) => (
              <BoatCard key={card.id} card={card} isOpen={card.id === working.refit} open={open} />
            ))}
          </ul>
        )}
        <DeletedBoats turn={turn} />
        <BeginBoat />
        <OpenFile />
        <Examples />
        <Archives />
      </div>
    </>
  );
}

interface CardProps {
  readonly card: RefitCard;
  readonly isOpen: boolean;
  readonly open: (boat: string) => void;
}

function BoatCard({ card, isOpen, open }: CardProps) {
  return (
    <li>
      <Picture boat={card.id} />
      <div>
        <button type="button" class="quiet" disabled={isOpen} onClick={() => open(card.id)}>
          {card.name}
        </button>
        <small class="where">{card.path || card.kept_in}</small>
        <CopyBoat card={card} /> <DeleteBoat card={card} />
      </div>
    </li>
  );
}

const WIDTH = 120;
const HEIGHT = 54;

/** The boat from the side; a blank sheet where she cannot be drawn. */
function Picture({ boat }: { boat: string }) {
  const [outlines, setOutlines] = useState<readonly Outline[]>([]);
  useEffect(() => {
    let isWanted = true;
    api.outlines(boat).then(
      (found) => isWanted && setOutlines(found),
      () => undefined,
    );
    return () => {
      isWanted = false;
    };
  }, [boat]);
  const points = outlines.flatMap((one) => one.points_m);
  const xs = points.map(([x]) => x);
  const zs = points.map(([, z]) => z);
  const [left, top] = [Math.min(...xs), Math.max(...zs)];
  const per = Math.min(
    (WIDTH - 4) / (Math.max(...xs) - left),
    (HEIGHT - 4) / (top - Math.min(...zs)),
  );
  const path = ({ points_m }: Outline) =>
    `M${points_m
      .map(([x, z]) => `${(2 + (x - left) * per).toFixed(1)},${(2 + (top - z) * per).toFixed(1)}`)
      .join('L')}`;
  return (
    <svg class="boat-picture" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      {outlines.map((one, i) => (
        <path key={i} class={one.role} d={path(one)} />
      ))}
    </svg>
  );
}

/** A copy under another name. */
function CopyBoat({ card }: { card: RefitCard }) {
  const [name, setName] = useState<string>();
  const { busy, wrong, run, stop } = useAction();
  if (name === undefined) {
    return (
      <button type="button" class="quiet" onClick={() => setName(`${card.name} copy`)}>
        copy<span class="unseen"> {card.name}</span>
      </button>
    );
  }
  const copy = (event: Event) => {
    event.preventDefault();
    void run(async (signal) => show(await api.copyRefit(card.id, name, signal)));
  };
  return (
    <form onSubmit={copy} aria-label={`Copy ${card.name}`}>
      <label>
        <span>name of the copy</span>{' '}
        <input value={name} required onInput={(e) => setName(e.currentTarget.value)} />
      </label>{' '}
      <button type="submit" disabled={busy}>
        Copy
      </button>{' '}
      {busy && <UnderWay words="Copying her…" stop={stop} />}
      <RefusalMessage words={wrong} />
    </form>
  );
}

/** A refit document from this computer; the file itself stays as it is. */
export function OpenFile() {
  const { busy, wrong, run, stop } = useAction();
  const take = (file: File | undefined) =>
    file && void run(async (signal) => show(await api.openDocument(await file.text(), signal)));
  return (
    <div class="open-file">
      <label>
        <span>Open a boat file (.yaml): a copy is kept here</span>
        <input
          type="file"
          accept=".yaml,.yml"
          disabled={busy}
          onChange={(e) => {
            take(e.currentTarget.files?.[0]);
            e.currentTarget.value = ''; // the same file may be chosen again
          }}
        />
      </label>
      {busy && <UnderWay words="Reading and checking the file…" stop={stop} />}
      <RefusalMessage words={wrong} />
    </div>
  );
}

const OPENING = 'Copying the example to your boats…';

export function Examples() {
  const cards = useExamples();
  const { busy, wrong, run, stop } = useAction();
  if (cards.length === 0) return null;
  return (
    <section class="examples" aria-label="Examples">
      <h3>Examples</h3>
      <ul>
        {cards.map((card) => (
          <li key={card.id}>
            <OpenExample card={card} busy={busy} run={run} />{' '}
            <small>{card.about.replace(`${card.name}, `, '')}</small>
          </li>
        ))}
      </ul>
      {busy && <UnderWay words={OPENING} stop={stop} />}
      <RefusalMessage words={wrong} />
    </section>
  );
}

/** On an example's first page: the other examples, until she is edited. */
export function OtherExamples() {
  const { working } = useBoat();
  const cards = useExamples();
  const { busy, wrong, run, stop } = useAction();
  const others = cards.filter((card) => card.id !== working.refit);
  const isExample = others.length < cards.length;
  if (!isExample || others.length === 0 || working.can_undo) return null;
  return (
    <aside class="other-examples" aria-label="Other examples">
      {working.assessment.boat} is an invented example. Others, unlike her:{' '}
      {others.map((card) => (
        <span key={card.id} title={card.about}>
          <OpenExample card={card} busy={busy} run={run} />{' '}
        </span>
      ))}
      {busy && <UnderWay words={OPENING} stop={stop} />}
      <RefusalMessage words={wrong} />
    </aside>
  );
}

function useExamples(): readonly ExampleCard[] {
  const [cards, setCards] = useState<readonly ExampleCard[]>([]);
  useEffect(() => {
    api.examples().then(setCards, () => setCards([]));
  }, []);
  return cards;
}

interface OpenExampleProps extends Pick<ReturnType<typeof useAction>, 'busy' | 'run'> {
  readonly card: ExampleCard;
}

function OpenExample({ card, busy, run }: OpenExampleProps) {
  return (
    <button
      type="button"
      class="quiet"
      disabled={busy}
      onClick={() => void run(async (signal) => show(await api.openExample(card.id, signal)))}
    >
      {card.name}
    </button>
  );
}
