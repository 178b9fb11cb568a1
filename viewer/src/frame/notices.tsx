/** What must not be missed, at the head of the page and in sight until it is dealt with. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { useBoat, useEditing, useRoute, useSnapshot } from '../session/context.tsx';
import { isWaiting, type Refused } from '../session/working-copy/snapshot.ts';
import { count } from '../shared/words/plain-words.ts';

const AS_LAST_ANSWERED = 'What you see is the last good result.';
const NOTHING_IS_TAKEN = 'Nothing you enter here is saved any more.';

export function Notices() {
  const { session, closedWhy } = useEditing();
  const { working } = useBoat();
  const { notice, stuck } = useSnapshot();
  if (closedWhy)
    return (
      <div class="bar">
        <Notice>
          <b>{closedWhy}</b> {NOTHING_IS_TAKEN} {AS_LAST_ANSWERED}
        </Notice>
      </div>
    );
  const trouble = stuck ? `${stuck} ${AS_LAST_ANSWERED}` : working.trouble;
  return (
    <div class="bar">
      <ServerAway />
      {trouble && <Notice>{trouble}</Notice>}
      {notice && <Notice done={() => session.dismiss()}>{notice}</Notice>}
      <UnseenRefusals />
    </div>
  );
}

function Notice({ children, done }: { children: ComponentChildren; done?: () => void }) {
  return (
    <p class="notice" role="alert">
      {children}{' '}
      {done && (
        <button type="button" class="quiet" onClick={done}>
          Understood
        </button>
      )}
    </p>
  );
}

/** That the server does not answer, and what waits for it. */
function ServerAway() {
  const { session } = useEditing();
  const { away, unsent } = useSnapshot();
  useEffect(() => {
    if (unsent.length === 0) return undefined;
    const stay = (event: BeforeUnloadEvent) => event.preventDefault();
    addEventListener('beforeunload', stay);
    return () => removeEventListener('beforeunload', stay);
  }, [unsent.length === 0]);
  if (!away) return null;
  return (
    <p class="notice" role="alert">
      {away}{' '}
      {unsent.length > 0 && (
        <>
          Not saved: {count(unsent.length, 'edit')} ({unsent.join(', ')}).{' '}
          {unsent.length === 1 ? 'It is' : 'They are'} kept on this page and sent when it answers.{' '}
        </>
      )}
      <button type="button" class="quiet" onClick={() => session.refresh()}>
        Try again
      </button>
    </p>
  );
}

/** Refusals that nothing else on the page shows: beside what was done, or as waiting. */
function UnseenRefusals() {
  const { session } = useEditing();
  const { route } = useRoute();
  const { refused } = useSnapshot();
  const [unseen, setUnseen] = useState<readonly (readonly [string, Refused])[]>([]);
  useEffect(() => {
    const look = () =>
      setUnseen((before) => {
        const now = [...refused].filter(
          ([path]) => !(isShown(path) || isWaiting({ refused }, path)),
        );
        const isSame =
          now.length === before.length &&
          now.every(([p, r], i) => before[i]?.[0] === p && before[i]?.[1] === r);
        return isSame ? before : now;
      });
    look();
    if (refused.size === 0) return undefined;
    const changes = new MutationObserver(look);
    changes.observe(document.body, { childList: true, subtree: true });
    return () => changes.disconnect();
  }, [refused, route]);
  return (
    <>
      {unseen.map(([path, { label, reasons }]) => (
        <Notice key={path} done={() => session.forget(path)}>
          <b>Not done: {label}.</b> {reasons.join(' ')}
        </Notice>
      ))}
    </>
  );
}

/** Whether the reason stands on the page at the field of a path. */
function isShown(path: string): boolean {
  const at = `[data-path="${CSS.escape(path)}"]`;
  return [...document.querySelectorAll(`${at} .refused`)].some(
    (one) => one.closest('[data-path]')?.matches(at) && one.checkVisibility(),
  );
}
