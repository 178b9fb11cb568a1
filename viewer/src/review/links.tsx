/** Links for reviewers: handed out, shown once, revoked. */
import { useEffect, useState } from 'preact/hooks';
import type { NewLink, ShareCard } from '../contract.ts';
import { useReview, useRoute } from '../session/context.tsx';
import { lastReviewed, timeWords } from '../session/review.ts';
import { pageOf } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { isLinkClosed, newLink, USUAL_DAYS, usualLabel } from './path.ts';

const DAYS = [7, 30, 90, 365];

interface LinksProps {
  /** The link that was made last on this page. */
  readonly made: NewLink | undefined;
  readonly shared: (made: NewLink) => void;
}

export function Links({ made, shared }: LinksProps) {
  const { reviewState } = useReview();
  return (
    <section class="links" aria-label="Share links">
      <p class="about">
        A link opens the revisions you choose, on this server. Anyone with the link can read,
        comment and sign, and change nothing else.
      </p>
      {made && <Made key={made.link} made={made} />}
      {reviewState.revisions.length > 0 ? (
        <MakeLink key={reviewState.revisions.length} shared={shared} />
      ) : (
        <p class="about">Freeze a revision first.</p>
      )}
      <ul>
        {reviewState.shares.toReversed().map((share) => (
          <Row key={share.id} share={share} />
        ))}
      </ul>
    </section>
  );
}

function MakeLink({ shared }: Pick<LinksProps, 'shared'>) {
  const { reviewStore, reviewState } = useReview();
  const { busy, wrong, run } = useAction();
  const [days, setDays] = useState(USUAL_DAYS);
  const latest = reviewState.revisions.at(-1)?.number;
  const reviewed = lastReviewed(
    reviewState.revisions,
    reviewState.review?.signatures ?? [],
    latest,
  );
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const revisions = data.getAll('revision').map(Number);
    const wanted = newLink(String(data.get('label')), revisions, days);
    await run(async () => shared(await reviewStore.share(wanted)));
  };
  return (
    <form class="asking" aria-label="Make a link" onSubmit={(event) => void send(event)}>
      <label>
        <span>for whom</span>
        <input
          name="label"
          required
          maxLength={200}
          defaultValue={usualLabel(reviewState.shares)}
          onFocus={(e) => e.currentTarget.select()}
        />
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
  );
}

function Made({ made: { link, opens_here_alone: isHereAlone, share } }: { made: NewLink }) {
  const { reviewStore } = useReview();
  const { route } = useRoute();
  const [copied, setCopied] = useState(false);
  const copy = () =>
    navigator.clipboard.writeText(link).then(
      () => setCopied(true),
      () => setCopied(false),
    );
  // allowed right after a press; else the button does it
  useEffect(() => {
    if ('clipboard' in navigator) void copy();
  }, []);
  return (
    <div class="made" role="status">
      <label>
        <span>
          {isHereAlone
            ? 'This link opens on this computer only. It is shown only once.'
            : 'Send this link. It is shown only once.'}
        </span>
        <input readOnly value={link} onFocus={(e) => e.currentTarget.select()} />
      </label>
      {'clipboard' in navigator && (
        <button type="button" onClick={() => void copy()}>
          {copied ? 'Copied' : 'Copy the link'}
        </button>
      )}
      {isHereAlone && (
        <p class="about">
          To let others in, start hullchange with <code>--host</code> and this computer's address in
          your network, and make the link there; or send one file:{' '}
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
  const isOver = isLinkClosed(share, Date.now());
  return (
    <li class={isOver ? 'shut' : ''}>
      <p>
        <b>{share.label}</b>
        {share.reviewer && ` · opened by ${share.reviewer}`} · revision {share.revisions.join(', ')}
      </p>
      <p class="about">
        {opensWords(share)} · made {timeWords(share.made_at)} ·{' '}
        {share.last_used_at ? `used last ${timeWords(share.last_used_at)}` : 'not used yet'}
      </p>
      {!isOver && (
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
  return `${Date.parse(ends) < Date.now() ? 'ended' : 'valid until'} ${timeWords(ends)}`;
}
