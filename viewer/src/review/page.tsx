/** The Review page: revisions, what changed, comments, sign-off and links. */
import { useKnown, useReview, useRoute } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { title } from '../shared/words/plain-words.ts';
import { ReviewSteps } from './steps.tsx';

export function ReviewPage() {
  const { reviewState } = useReview();
  const { visitor, offlineReview } = useKnown();
  if (!reviewState.review)
    return (
      <div class="page review beside-boat">
        <PageHead title="Review">
          <p class="lead">{reviewState.trouble ? '' : 'Loading the review…'}</p>
        </PageHead>
        <RefusalMessage words={reviewState.trouble} />
      </div>
    );
  return (
    <div class="page review beside-boat">
      <PageHead title="Review">
        <Standing />
        {visitor.role === 'reviewer' && !offlineReview && (
          <p class="lead">
            You can read every page, comment and sign as {visitor.name}. Nothing you do here changes
            the boat.
          </p>
        )}
      </PageHead>
      <RefusalMessage words={reviewState.trouble} />
      <ReviewSteps />
    </div>
  );
}

/** What is looked at, and whether it is signed. */
function Standing() {
  const { signable, standing } = useReview();
  const { route } = useRoute();
  const shown = route.revision === undefined ? 'the working copy' : `revision ${route.revision}`;
  return (
    <>
      <p class="lead">
        {title(signable?.words ?? shown)} is <b>{standing?.standing ?? '…'}</b>.{' '}
        {standing?.sentence}
      </p>
      {standing?.conflicts.map((one) => (
        <p key={one} class="lead conflict" role="alert">
          {one}
        </p>
      ))}
    </>
  );
}
