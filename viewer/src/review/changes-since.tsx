/** What changed since the last review: what is on the pages against an earlier revision. */

import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Compared } from '../contract.ts';
import { useBoat, useKnown, useReview, useRoute, useSnapshot } from '../session/context.tsx';
import { lastReviewed } from '../session/review.ts';
import { since } from '../session/review-api.ts';
import { whyNot } from '../session/review-store.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { count } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import { type ComparedLine, groupsOf, overlaid, type RowGroup } from './compared.ts';
import { Overlay } from './overlay.tsx';

export function ChangesSince() {
  const { reviewState, signable } = useReview();
  const { visitor } = useKnown();
  const shown = signable?.revision ?? undefined;
  const { revisions, review } = reviewState;
  const [chosen, choose] = useState<number>();
  const own = (review?.signatures ?? []).filter(
    (one) => visitor.role === 'owner' || one.author === visitor.name,
  );
  const others = revisions.filter((one) => one.number !== shown);
  const before = others.some((one) => one.number === chosen)
    ? chosen
    : lastReviewed(revisions, own, shown);
  const now = signable?.words ?? 'the working copy';
  return (
    <section class="since" aria-label="What changed">
      <h4>What changed</h4>
      {before === undefined ? (
        <p class="about">There is no earlier revision to compare {now} with.</p>
      ) : (
        <>
          <p class="since-which">
            <label>
              In {now} since{' '}
              <select value={before} onChange={(e) => choose(Number(e.currentTarget.value))}>
                {others.map(({ number }) => (
                  <option key={number} value={number}>
                    revision {number}
                  </option>
                ))}
              </select>
            </label>
          </p>
          <Changes before={before} />
        </>
      )}
    </section>
  );
}

function Changes({ before }: { before: number }) {
  const { route } = useRoute();
  const { condition, working } = useBoat();
  const { compared, wrong } = useCompared(before);
  const groups = useMemo(
    () => groupsOf(compared?.comparison.rows ?? [], condition),
    [compared, condition],
  );
  if (wrong) return <RefusalMessage words={wrong} />;
  if (!compared) return <p class="about">Comparing…</p>;
  return (
    <>
      <p>{reworded(compared.comparison.sentence)}</p>
      <Drawn
        key={`${before} ${route.revision} ${route.option} ${working.edit}`}
        compared={compared}
      />
      {groups.map((group) => (
        <Group key={group.words} group={group} />
      ))}
    </>
  );
}

function useCompared(before: number) {
  const { working } = useBoat();
  const { route } = useRoute();
  const { reviewStore } = useReview();
  const { busy } = useSnapshot();
  const [compared, setCompared] = useState<Compared>();
  const [wrong, setWrong] = useState('');
  useEffect(() => {
    if (busy) return undefined;
    let isWanted = true;
    since(reviewStore.refit, before, route.revision, route.option).then(
      (answer) => {
        if (!isWanted) return;
        setCompared(answer);
        setWrong('');
      },
      (error: unknown) => isWanted && setWrong(whyNot(error)),
    );
    return () => {
      isWanted = false;
    };
  }, [before, route.revision, route.option, working.edit, busy]);
  return { compared, wrong };
}

function Group({ group: { words, rows, folded } }: { group: RowGroup }) {
  return (
    <section class="compared" aria-label={words}>
      <h5>{words}</h5>
      {rows.length > 0 && <Rows rows={rows} label={`${words}, was and is`} />}
      {folded.map(([why, some]) => (
        <details key={why}>
          <summary>
            {count(some.length, 'difference')} {why}
          </summary>
          <Rows rows={some} label={`${words}, ${why}`} />
        </details>
      ))}
    </section>
  );
}

function Rows({ rows, label }: { rows: readonly ComparedLine[]; label: string }) {
  return (
    <ScrollBox label={label}>
      <table>
        <thead>
          <tr>
            <th scope="col">what</th>
            <th scope="col">was</th>
            <th scope="col">is</th>
            <th scope="col">change</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.path + row.name} data-path={row.path}>
              <th scope="row">{row.name}</th>
              <td>{row.before}</td>
              <td>{row.after}</td>
              <td>{row.change}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}

/** Old and new in one drawing, where anything that is drawn differs. */
function Drawn({ compared }: { compared: Compared }) {
  const [isOpen, setOpen] = useState(false);
  const over = useMemo(() => overlaid(compared), [compared]);
  if (over.differing.size + over.outlined.length === 0)
    return <p class="about">There is no visible difference.</p>;
  return (
    <>
      <button type="button" class="quiet" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
        {isOpen ? 'Close the drawing' : 'Old and new in one drawing'}
      </button>
      {isOpen && <Overlay over={over} />}
    </>
  );
}
