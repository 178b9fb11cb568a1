/** Comments as threads, grouped by what they concern. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { AttachmentCard, Comment, NewRemark, Remark } from '../contract.ts';
import { useBoat, useKnown, useReview, useRoute } from '../session/context.tsx';
import {
  concernsOf,
  GATE_WORDS,
  KIND_WORDS,
  pinWords,
  REMARK_WORDS,
  shortHash,
  type Thread,
  threadsOf,
  timeWords,
  whenWords,
} from '../session/review.ts';
import { attachmentPath } from '../session/review-api.ts';
import { AuthorField, authorIn } from '../shared/comments/author.tsx';
import { CommentOn } from '../shared/comments/composer.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';

export function Threads() {
  const { reviewState } = useReview();
  const threads = threadsOf(reviewState.review);
  return (
    <section class="threads" aria-label="Comments">
      <p class="about">
        Comment on a part, plate or point in the drawing on Float, on a change from its card, or on
        a figure where it opens. <CommentOn on={{}} words="Comment on the whole refit" />
      </p>
      <Adrift threads={threads} />
      {concernsOf(threads).map(({ about, words, threads: own }) => (
        <section key={about} class="concern" aria-label={words}>
          <h4>{words}</h4>
          {own.map((thread) => (
            <OneThread key={thread.comment.id} thread={thread} />
          ))}
        </section>
      ))}
    </section>
  );
}

/** Comments whose part, plate or figure is no longer in the refit: nothing is lost. */
function Adrift({ threads }: { threads: readonly Thread[] }) {
  const { go } = useRoute();
  const adrift = threads.filter(({ comment }) => comment.is_adrift);
  if (adrift.length === 0) return null;
  return (
    <div class="adrift">
      <p>
        <b>Pins whose part is gone.</b> These comments are about parts that are no longer in the
        working copy:
      </p>
      <ul>
        {adrift.map(({ comment, number }) => (
          <li key={comment.id}>
            <button type="button" class="quiet" onClick={() => go({ comment: comment.id })}>
              {number}. {pinWords(comment.on)}
            </button>
          </li>
        ))}
      </ul>
    </div>
  );
}

function OneThread({ thread: { comment, number } }: { thread: Thread }) {
  const { reviewState } = useReview();
  const { route, go } = useRoute();
  const { working } = useBoat();
  const { offlineReview } = useKnown();
  const article = useRef<HTMLElement>(null);
  const isMeant = route.comment === comment.id;
  useEffect(() => {
    if (!isMeant) return;
    article.current?.scrollIntoView({ block: 'center' });
    article.current?.focus();
  }, [isMeant]);
  const revision = reviewState.revisions.find((one) => one.sha256 === comment.revision_sha256);
  const part = working.assessment.parts.find((one) => one.id === comment.on.part);
  const show = () =>
    go({
      page: 'float',
      comment: comment.id,
      picked: part && { change: part.change, part: part.id },
    });
  return (
    <article
      ref={article}
      tabIndex={-1}
      class={`thread ${comment.state}${isMeant ? ' meant' : ''}`}
      aria-label={`${number}. ${KIND_WORDS[comment.kind]} on ${pinWords(comment.on)}`}
    >
      <p class="thread-head">
        <b>
          {number}. {KIND_WORDS[comment.kind]}
        </b>{' '}
        <span class={`stands ${comment.state}`}>{comment.state}</span>{' '}
        {comment.gate && <span>to be closed {GATE_WORDS[comment.gate]}</span>}
        {comment.is_adrift && <span> · its part is gone</span>}
      </p>
      <p class="about">
        {pinWords(comment.on)}{' '}
        {!comment.is_adrift && comment.on.part && (
          <button type="button" class="quiet" onClick={show}>
            Show it<span class="unseen"> in the drawing, comment {number}</span>
          </button>
        )}
      </p>
      <Message
        text={comment.text}
        by={comment.author}
        came={comment}
        on={
          revision
            ? `on revision ${revision.number} (${shortHash(revision.sha256)})`
            : `on ${offlineReview?.signable.words ?? 'the working copy'}`
        }
      />
      {comment.thread.map((remark) => (
        <RemarkMessage key={remark.id} remark={remark} />
      ))}
      <Answer comment={comment} number={number} />
    </article>
  );
}

interface MessageProps {
  readonly text: string;
  readonly by: string;
  readonly came: Pick<Comment, 'written_at' | 'arrived_at'>;
  readonly on?: string;
}

const Message = ({ text, by, came, on = '' }: MessageProps) => (
  <>
    <p class="said">{text}</p>
    <p class="by">
      {by}, <time dateTime={came.written_at}>{whenWords(came)}</time>
      {on && `, ${on}`}
    </p>
  </>
);

function RemarkMessage({ remark }: { remark: Remark }) {
  const { reviewState } = useReview();
  const files = reviewState.attachments.filter((one) => remark.evidence.includes(one.id));
  return (
    <div class={`remark ${remark.kind}`}>
      <p class="said">{remark.text}</p>
      <p class="by">
        {remark.author} {REMARK_WORDS[remark.kind]},{' '}
        <time dateTime={remark.written_at}>{whenWords(remark)}</time>
        {files.length > 0 && ', with '}
        {files.map((file, i) => (
          <span key={file.id}>
            {i > 0 && ', '}
            <Evidence file={file} />
          </span>
        ))}
      </p>
    </div>
  );
}

/** A file, or that it was deleted and when; its owner may do and undo that. */
function Evidence({ file }: { file: AttachmentCard }) {
  const { reviewStore } = useReview();
  const { visitor } = useKnown();
  const { busy, wrong, run } = useAction();
  const isGone = file.removed_at !== null;
  return (
    <>
      {isGone ? (
        <>
          <s>{file.name}</s>, deleted {timeWords(file.removed_at ?? '')}
        </>
      ) : (
        <a href={attachmentPath(reviewStore.refit, file.id)} target="_blank" rel="noreferrer">
          {file.name}
        </a>
      )}
      {visitor.role === 'owner' && (
        <button
          type="button"
          class="quiet"
          disabled={busy}
          onClick={() => void run(() => reviewStore.setDeleted(file.id, !isGone))}
        >
          {isGone ? 'Undo' : 'delete'}
          <span class="unseen"> {file.name}</span>
        </button>
      )}
      <RefusalMessage words={wrong} />
    </>
  );
}

/** A reply, a closing with its evidence, an opening again. */
function Answer({ comment, number }: { comment: Comment; number: number }) {
  const { reviewStore } = useReview();
  const { inFile } = useKnown();
  const { busy, wrong, run } = useAction();
  const [isOpen, setOpen] = useState(false);
  const turn: NewRemark['kind'] = comment.state === 'open' ? 'closing' : 'reopening';
  if (!isOpen) {
    return (
      <button type="button" class="quiet" onClick={() => setOpen(true)}>
        Answer<span class="unseen"> comment {number}</span>
      </button>
    );
  }
  const send = async (event: SubmitEvent & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const kind = event.submitter?.getAttribute('value') === turn ? turn : 'reply';
    const evidence = data.getAll('evidence').filter((one) => one instanceof File);
    const files = evidence.filter((one) => one.size > 0);
    const author = authorIn(data);
    const sent = await run(async () => {
      const attached = await reviewStore.attach(files, author);
      const text = String(data.get('text'));
      await reviewStore.remark(comment.id, { kind, text, evidence: attached }, author);
    });
    if (sent) setOpen(false);
  };
  return (
    <form
      class="asking answer"
      aria-label={`Answer comment ${number}`}
      onSubmit={(event) => void send(event)}
    >
      <label class="wide">
        <span>answer</span>
        <textarea name="text" rows={3} required maxLength={4000} />
      </label>
      {!inFile && (
        <label>
          <span>evidence: photo, scale ticket, certificate</span>
          <input type="file" name="evidence" multiple accept=".jpg,.jpeg,.png,.webp,.heic,.pdf" />
        </label>
      )}
      <AuthorField />
      <RefusalMessage words={wrong} />
      <p class="doing">
        <button type="submit" value="reply" disabled={busy}>
          Reply
        </button>
        <button type="submit" value={turn} disabled={busy}>
          {turn === 'closing' ? 'Close it with this' : 'Open it again'}
        </button>
        <button type="button" class="quiet" onClick={() => setOpen(false)}>
          cancel
        </button>
      </p>
    </form>
  );
}
