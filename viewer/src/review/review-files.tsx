/** Review files: comments and signatures made in a shared page, merged here. */
import { useEffect, useState } from 'preact/hooks';
import type { Merged } from '../contract.ts';
import { useReview } from '../session/context.tsx';
import type { OfflineReview } from '../session/offline/review.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { download } from '../shared/files/download.ts';
import { FileDrop } from '../shared/files/file-drop.tsx';
import { count } from '../shared/words/plain-words.ts';

/** In a shared page: what was written in it goes back to the owner. */
export function SaveReview({ offlineReview }: { offlineReview: OfflineReview }) {
  const { reviewState } = useReview();
  const [isSaved, setSaved] = useState(!offlineReview.isUnsaved);
  useEffect(() => setSaved(!offlineReview.isUnsaved), [reviewState.review]);
  useEffect(() => {
    const stay = (event: BeforeUnloadEvent) => {
      if (offlineReview.isUnsaved && !offlineReview.isKept) event.preventDefault();
    };
    addEventListener('beforeunload', stay);
    return () => removeEventListener('beforeunload', stay);
  }, [offlineReview]);
  const save = () => {
    const { name, text } = offlineReview.save();
    download(name, 'application/json', text);
    setSaved(true);
  };
  return (
    <section class="handing" aria-label="Your review">
      <h4>Your review</h4>
      <p class="about">
        Comments and signatures you write here count once the owner has merged them. Save them as a
        review file and send it back.
      </p>
      <button type="button" disabled={offlineReview.count === 0} onClick={save}>
        Save your review
      </button>{' '}
      <span role="status">
        {offlineReview.count === 0
          ? 'Nothing is written yet.'
          : `${count(offlineReview.count, 'entry', 'entries')}${isSaved ? ', saved' : ', not saved yet'}.`}
      </span>
      {!offlineReview.isKept && (
        <p class="about">
          <b>This browser does not keep entries for a file:</b> save before you close the page.
        </p>
      )}
    </section>
  );
}

/** On the owner's page: a review file comes back. */
export function MergeReviews() {
  const { reviewStore } = useReview();
  const { busy, wrong, run } = useAction();
  const [done, setDone] = useState<Merged>();
  const take = (file: File) => {
    setDone(undefined);
    void run(async () => setDone(await reviewStore.merge(file)));
  };
  return (
    <section class="handing" aria-label="Review files">
      <h4>Review files</h4>
      <p class="about">
        No link? Send a revision as one file: the reviewer comments and signs in it without a
        network, and sends a review file back.
      </p>
      <FileDrop
        words="Drop a review file here, or choose one:"
        accept=".json,application/json"
        take={take}
      >
        {busy && <p role="status">Merging…</p>}
        {done && (
          <p role="status">
            {count(done.new_count, 'new entry', 'new entries')}, {done.known_count} already there.
          </p>
        )}
        {done?.conflicts.map((one) => (
          <p key={one} class="refused" role="alert">
            {one}
          </p>
        ))}
        <RefusalMessage words={wrong} />
      </FileDrop>
    </section>
  );
}
