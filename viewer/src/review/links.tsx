/** Links for reviewers: handed out, shown once, revoked. */
import { useState } from 'preact/hooks';
import type { NewLink, ShareCard } from '../contract.ts';
import { useReview, useRoute } from '../session/context.tsx';
import { lastReviewed, timeWords } from '../session/review.ts';
import { pageOf } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

const DAY_S = 86_400;
const DAYS = [7, 30, 90, 365];
const USUAL_DAYS = 30;

export function Links() {
  const { reviewState } = useReview();
  return (
    <section class="links" aria-label="Share links">
      <h3>Share links</h3>
      <p class="about">
        A link opens the revisions you choose, on this server. Whoever holds it reads, comments and
        signs, and changes nothing else.
      </p>
      {reviewState.revisions.length > 0 && <MakeLink />}
      <ul>
        {reviewState.shares.toReversed().map((share) => (
          <Row key={share.id} share={share} />
        ))}
      </ul>
    </section>
  );
}

function MakeLink() {
  const { reviewStore, reviewState } = useReview();
  const { busy, wrong, run } = useAction();
  const [made, setMade] = useState<NewLink>();
  const [days, setDays] = useState(USUAL_DAYS);
  const latest = reviewState.revisions.at(-1)?.number;
  const reviewed = lastReviewed(
    reviewState.revisions,
    reviewState.review?.signatures ?? [],
    latest,
  );
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const form = event.currentTarget;
    const data = new FormData(form);
    const wanted = {
      label: String(data.get('label')),
      revisions: data.getAll('revision').map(Number),
      opens_for_s: days * DAY_S,
    };
    const done = await run(async () => setMade(await reviewStore.share(wanted)));
    // revisions and days stay as they were chosen, for the next link
    const label = form.querySelector<HTMLInputElement>('[name=label]');
    if (done && label) label.value = '';
  };
  return (
    <>
      <form class="asking" aria-label="Make a link" onSubmit={(event) => void send(event)}>
        <label>
          <span>for whom</span>
          <input name="label" required maxLength={200} />
        </label>
        <fieldset class="which">
          <legend>it opens</legend>
          {reviewState.revisions.map(({ number }) => (
            <label key={`${number} of ${latest}`}>
              <input
                type="checkbox"
                name="revision"
                value={number}
                defaultChecked={number === latest || number === reviewed}
              />{' '}
              revision {number}
            </label>
          ))}
        </fieldset>
        <label>
          <span>for</span>
          <select name="days" value={days} onChange={(e) => setDays(Number(e.currentTarget.value))}>
            {DAYS.map((one) => (
              <option key={one} value={one}>
                {one} days
              </option>
            ))}
          </select>
        </label>
        <button type="submit" disabled={busy}>
          Make a link
        </button>
        <RefusalMessage words={wrong} />
      </form>
      {made && <Made key={made.link} made={made} />}
    </>
  );
}

function Made({ made: { link, opens_here_alone: isHereAlone, share } }: { made: NewLink }) {
  const { reviewStore } = useReview();
  const { route } = useRoute();
  const [copied, setCopied] = useState(false);
  const copy = async () => {
    await navigator.clipboard.writeText(link);
    setCopied(true);
  };
  return (
    <div class="made" role="status">
      <label>
        <span>
          {isHereAlone
            ? 'This link opens on this computer alone. It is shown once.'
            : 'Send this link. It is shown once.'}
        </span>
        <input readOnly value={link} onFocus={(e) => e.currentTarget.select()} />
      </label>
      {'clipboard' in navigator && (
        <button type="button" onClick={() => void copy()}>
          {copied ? 'Copied' : 'Copy'}
        </button>
      )}
      {isHereAlone && (
        <p class="about">
          To let somebody else in, start hullchange with <code>--host</code> and this computer's
          address in your network, and make the link there; or send one file:{' '}
          {share.revisions.map((number) => (
            <a key={number} href={pageOf(reviewStore.refit, number, route.option)} download>
              revision {number} as one file
            </a>
          ))}
        </p>
      )}
    </div>
  );
}

function Row({ share }: { share: ShareCard }) {
  const { reviewStore } = useReview();
  const { busy, wrong, run } = useAction();
  const isShut = share.revoked_at !== null || Date.parse(share.expires_at) < Date.now();
  return (
    <li class={isShut ? 'shut' : ''}>
      <p>
        <b>{share.label}</b>
        {share.reviewer && ` · opened by ${share.reviewer}`} · revision {share.revisions.join(', ')}
      </p>
      <p class="about">
        {opensWords(share)} · made {timeWords(share.made_at)} ·{' '}
        {share.last_used_at ? `used last ${timeWords(share.last_used_at)}` : 'not used yet'}
      </p>
      {!isShut && (
        <button
          type="button"
          class="quiet"
          disabled={busy}
          onClick={() => void run(() => reviewStore.revoke(share.id))}
        >
          Revoke<span class="unseen"> the link for {share.label}</span>
        </button>
      )}
      <RefusalMessage words={wrong} />
    </li>
  );
}

function opensWords({ revoked_at: revoked, expires_at: ends }: ShareCard): string {
  if (revoked !== null) return `revoked ${timeWords(revoked)}`;
  return `${Date.parse(ends) < Date.now() ? 'ended' : 'opens until'} ${timeWords(ends)}`;
}
