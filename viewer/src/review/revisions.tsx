/** Revisions: frozen by the owner, each with its hash and where it stands. */

import type { ListedRevision, NewLink } from '../contract.ts';
import { useBoat, useKnown, useReview, useRoute, useSnapshot } from '../session/context.tsx';
import { shortHash, timeWords } from '../session/review.ts';
import { pageOf, showPageOf } from '../session/review-api.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { DownloadFile } from '../shared/files/download-file.tsx';
import { newLink, USUAL_DAYS, usualLabel } from './path.ts';

export function Revisions({ shared }: { shared: (made: NewLink) => void }) {
  const { reviewState } = useReview();
  const { visitor } = useKnown();
  return (
    <section class="revisions" aria-label="Revisions">
      <h4>Revisions</h4>
      {reviewState.revisions.length === 0 ? (
        <p class="about">
          None yet. A revision holds the document, the hull's lines, the results and the version
          that calculated them, under one hash. It never changes, and only a revision can be signed.
        </p>
      ) : (
        <ol>
          {reviewState.revisions.toReversed().map((one) => (
            <Row key={one.number} revision={one} />
          ))}
        </ol>
      )}
      {visitor.role === 'owner' && <Freeze shared={shared} />}
    </section>
  );
}

function Row({ revision }: { revision: ListedRevision }) {
  const { route, go } = useRoute();
  const { reviewStore, signable } = useReview();
  const { inFile, visitor } = useKnown();
  const { number, note, made_at: madeAt, sha256, tool, standing } = revision;
  const { document_sha256: documentHash } = revision;
  const isShown = signable?.revision === number;
  return (
    <li class={isShown ? 'shown' : ''}>
      <p>
        <b>Revision {number}</b>
        {note && `, ${note}`}{' '}
        <span class={`stands ${standing.standing.split(' ')[0]}`}>{standing.standing}</span>
      </p>
      <p class="about">
        {timeWords(madeAt)} · revision hash <code title={sha256}>{shortHash(sha256)}</code> ·
        document hash <code title={documentHash}>{shortHash(documentHash)}</code> (printed on cut
        files) · hullchange {tool}
      </p>
      {standing.standing !== 'unsigned' && <p class="about">{standing.sentence}</p>}
      {inFile ? (
        isShown && <p class="about">This file holds it.</p>
      ) : (
        <p>
          <button
            type="button"
            class="quiet"
            aria-pressed={isShown}
            disabled={isShown}
            onClick={() => go({ revision: number })}
          >
            {isShown ? 'shown on all pages now' : `Open revision ${number}`}
          </button>{' '}
          {visitor.role === 'owner' && (
            <>
              <DownloadFile path={pageOf(reviewStore.refit, number, route.option)}>
                Save revision {number} as one file
              </DownloadFile>{' '}
              <DownloadFile path={showPageOf(reviewStore.refit, number, route.option)}>
                Save a page to show to anybody
              </DownloadFile>
            </>
          )}
        </p>
      )}
    </li>
  );
}

/** Freezing, and in one press the link to what is frozen. */
function Freeze({ shared }: { shared: (made: NewLink) => void }) {
  const { working } = useBoat();
  const { route } = useRoute();
  const { reviewStore, reviewState } = useReview();
  const snapshot = useSnapshot();
  const { busy, wrong, run, stop } = useAction();
  if (route.revision !== undefined) return null;
  const label = usualLabel(reviewState.shares);
  const send = async (event: SubmitEvent & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const form = event.currentTarget;
    const isSent = event.submitter?.getAttribute('value') === 'send';
    const note = String(new FormData(form).get('note'));
    const done = await run(async (signal) => {
      const number = await reviewStore.freeze(working.edit, note, signal);
      if (isSent && !signal.aborted)
        shared(await reviewStore.share(newLink(label, [number], USUAL_DAYS)));
    });
    if (done) form.reset();
  };
  return (
    <form class="asking" aria-label="Freeze a revision" onSubmit={(e) => void send(e)}>
      <label>
        <span>what this revision is for</span>
        <input name="note" maxLength={4000} />
      </label>
      <button type="submit" value="send" disabled={busy || snapshot.busy}>
        Freeze and make a link for {label}
      </button>
      <button type="submit" value="freeze" disabled={busy || snapshot.busy}>
        Freeze a revision
      </button>
      {busy && <UnderWay words="Weighing the plates as CAD solids, then freezing…" stop={stop} />}
      <RefusalMessage words={wrong} />
    </form>
  );
}
