/** The steps of a review, one below the other: the next one is open. */
import type { ComponentChildren } from 'preact';
import { useLayoutEffect, useState } from 'preact/hooks';
import type { NewLink } from '../contract.ts';
import { useBoat, useKnown, useReview, useRoute } from '../session/context.tsx';
import { ChangesSince } from './changes-since.tsx';
import { Links } from './links.tsx';
import { type Path, pathOf, type StepId } from './path.ts';
import { MergeReviews, SaveReview } from './review-files.tsx';
import { Revisions } from './revisions.tsx';
import { SignOff } from './sign-off.tsx';
import { Threads } from './threads.tsx';

export function ReviewSteps() {
  const { route } = useRoute();
  const { visitor } = useKnown();
  const path = usePath();
  const [made, setMade] = useState<NewLink>();
  const [opened, setOpened] = useState<ReadonlySet<StepId>>(
    new Set(visitor.role === 'reviewer' ? path.steps.map(({ id }) => id) : []),
  );
  const turn = (id: StepId | undefined, open = true) =>
    id && setOpened((all) => new Set([...all].filter((one) => one !== id).concat(open ? id : [])));
  // the next step opens by itself; what is open stays so until it is closed by hand
  useLayoutEffect(() => void turn(path.next), [path.next]);
  useLayoutEffect(() => void (route.comment && turn('answer')), [route.comment]);
  const content: Readonly<Record<StepId, () => ComponentChildren>> = {
    read: () => (
      <>
        <ChangesSince />
        <Revisions shared={setMade} />
      </>
    ),
    freeze: () => (
      <>
        <Revisions shared={setMade} />
        <ChangesSince />
      </>
    ),
    send: () => <Links made={made} shared={setMade} />,
    answer: () => (
      <>
        <Threads />
        <SendingBack />
      </>
    ),
    sign: () => <SignOff />,
  };
  return (
    <ol class="steps">
      {path.steps.map((step, i) => (
        <li key={step.id} class={step.id === path.next ? 'next' : ''}>
          <details
            class="step"
            open={opened.has(step.id)}
            onToggle={(e) => turn(step.id, e.currentTarget.open)}
          >
            <summary class="step-head">
              <h3>
                <span class="step-number">{i + 1}</span> {step.title}
              </h3>{' '}
              <span class="state">{step.state}</span>
              {step.id === path.next && <b class="step-next">next</b>}
            </summary>
            {content[step.id]()}
          </details>
        </li>
      ))}
    </ol>
  );
}

/** Where every step stands for whoever looks. */
function usePath(): Path {
  const { working } = useBoat();
  const { route } = useRoute();
  const { reviewState, standing } = useReview();
  const { visitor, offlineReview } = useKnown();
  const own = (reviewState.review?.signatures ?? []).some(
    (one) => !(one.is_superseded || one.is_stale) && isTheirs(one, visitor.name),
  );
  return pathOf(reviewState, {
    role: visitor.role,
    edit: route.revision === undefined && !offlineReview ? working.edit : undefined,
    standing: standing?.standing,
    isSigned: visitor.role === 'owner' ? isSigned(standing?.standing) : own,
    now: Date.now(),
  });
}

const isSigned = (standing = '') => standing.startsWith('signed');

/** Whether a signature is of whoever looks: in a file, what was written there. */
const isTheirs = ({ author, arrival }: { author: string; arrival: number }, name: string) =>
  name ? author === name : arrival === 0;

/** How a review without a link comes back. */
function SendingBack() {
  const { visitor, offlineReview } = useKnown();
  if (offlineReview) return <SaveReview offlineReview={offlineReview} />;
  return visitor.role === 'owner' ? <MergeReviews /> : null;
}
