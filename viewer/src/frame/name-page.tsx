/** A reviewer's name, asked once: it stands beside whatever is written. */

import { useState } from 'preact/hooks';
import type { Visitor } from '../contract.ts';
import { pictureOf } from '../session/picture.ts';
import { giveName } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

interface Props {
  readonly visitor: Visitor;
  readonly done: () => void;
}

export function NamePage({ visitor, done }: Props) {
  const { busy, wrong, run } = useAction();
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const name = String(new FormData(event.currentTarget).get('name')).trim();
    if (await run(() => giveName(name))) done();
  };
  return (
    <main class="waiting">
      <RefitPicture visitor={visitor} />
      <h1>
        {visitor.boat ? `${visitor.boat}: a refit for your review` : 'A refit for your review'}
      </h1>
      <p>
        You can see everything, comment and sign, but you cannot change the boat. Your name is shown
        beside what you write.
      </p>
      <form class="asking" onSubmit={(event) => void send(event)}>
        <label>
          <span>Your name and profession, as you sign</span>
          <input name="name" required maxLength={200} autocomplete="name" />
        </label>
        <button type="submit" disabled={busy}>
          Open the review
        </button>
        <RefusalMessage words={wrong} />
      </form>
    </main>
  );
}

/** The boat of the latest revision that the link opens; nothing where her picture cannot be had. */
function RefitPicture({ visitor: { refit, revisions, boat } }: Pick<Props, 'visitor'>) {
  const [isLost, setLost] = useState(false);
  if (refit === null || isLost) return null;
  const view = { condition: undefined, option: null, revision: revisions.at(-1) };
  const words = `${boat || 'The refit'} from her port bow`;
  return (
    <img class="cover" src={pictureOf(refit, view)} alt={words} onError={() => setLost(true)} />
  );
}
