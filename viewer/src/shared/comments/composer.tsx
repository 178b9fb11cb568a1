/** Writing a comment on a part, a plate, a point or a number, beside what it is about. */
import { useEffect, useRef } from 'preact/hooks';
import type { PinInput } from '../../contract.ts';
import { useCommenting, useReview } from '../../session/context.tsx';
import { COMMENT_KINDS, GATE_WORDS, GATES, KIND_WORDS, pinWords } from '../../session/review.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { useAction } from '../feedback/use-action.ts';
import { choiceOf } from '../words/choice.ts';
import { AuthorField, authorIn } from './author.tsx';

interface CommentOnProps {
  readonly on: PinInput;
  readonly words?: string;
  readonly also?: () => void;
}

/** Begins a comment on something. */
export function CommentOn({ on, words = 'Comment', also }: CommentOnProps) {
  const { commentOn } = useCommenting();
  const begin = () => {
    also?.();
    commentOn(on);
  };
  return (
    <button type="button" class="quiet comment-on" onClick={begin}>
      {words}
      {words === 'Comment' && <span class="unseen"> on {pinWords(whole(on))}</span>}
    </button>
  );
}

/** The form, while a comment is being written. */
export function Composer() {
  const { commenting } = useCommenting();
  return commenting ? <Form key={JSON.stringify(commenting)} on={commenting} /> : null;
}

const whole = (on: PinInput) => ({ part: null, plate: null, path: null, point_m: null, ...on });

function Form({ on }: { on: PinInput }) {
  const { reviewStore, signable } = useReview();
  const { commentOn } = useCommenting();
  const { busy, wrong, run } = useAction();
  const text = useRef<HTMLTextAreaElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    text.current?.focus();
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  const close = () => commentOn(undefined);
  const send = async (event: Event & { currentTarget: HTMLFormElement }) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget);
    const sent = await run(() =>
      reviewStore.comment(
        {
          on,
          kind: choiceOf(COMMENT_KINDS, data.get('kind')) ?? 'question',
          gate: choiceOf(GATES, data.get('gate')) ?? null,
          text: String(data.get('text')),
          revision_sha256: signable && signable.revision !== null ? signable.sha256 : null,
        },
        authorIn(data),
      ),
    );
    if (sent) close();
  };
  const words = pinWords(whole(on));
  return (
    <form
      class="composer"
      aria-label={`Comment on ${words}`}
      onSubmit={(event) => void send(event)}
      onKeyDown={(e) => e.key === 'Escape' && close()}
    >
      <h3>{words}</h3>
      <label>
        <span>comment</span>
        <textarea ref={text} name="text" rows={4} required maxLength={4000} />
      </label>
      <div class="beside">
        <label>
          <span>it is a</span>
          <select name="kind">
            {COMMENT_KINDS.map((kind) => (
              <option key={kind} value={kind}>
                {KIND_WORDS[kind].toLowerCase()}
              </option>
            ))}
          </select>
        </label>
        <label>
          <span>to be closed</span>
          <select name="gate">
            <option value="">at any time</option>
            {GATES.map((gate) => (
              <option key={gate} value={gate}>
                {GATE_WORDS[gate]}
              </option>
            ))}
          </select>
        </label>
        <AuthorField />
      </div>
      <RefusalMessage words={wrong} />
      <p class="doing">
        <button type="submit" disabled={busy}>
          Add the comment
        </button>
        <button type="button" class="quiet" onClick={close}>
          cancel
        </button>
      </p>
    </form>
  );
}
