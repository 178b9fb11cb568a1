/** The Hull page: measured lines, freeboards as read, and how well they agree. */
import { useBoat } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { linesOf } from '../shared/boat/hull-lines.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { BodyPlan } from '../shared/input/body-plan.tsx';
import { Survey } from '../shared/input/survey.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { HullFigures } from './hull-figures.tsx';
import { Lines } from './lines.tsx';

export function HullPage() {
  const { working } = useBoat();
  const lines = linesOf(working.document);
  const { findings } = working.assessment;
  return (
    <div class="page">
      <PageHead title="Hull">
        <p class="lead">
          Everything rests on what was measured: the lines ashore, the freeboards afloat.{' '}
          <WhenEditable>Put a figure right here and the whole boat is answered again.</WhenEditable>
        </p>
      </PageHead>
      <div class="hull-page">
        <section aria-label="Measured lines">
          <h3>As measured</h3>
          <Findings findings={findingsAt(findings, 'hull')} />
          <BodyPlan />
          <Lines lines={lines} />
        </section>
        <section aria-label="Survey afloat">
          <h3>Afloat, as found</h3>
          <Findings findings={findingsAt(findings, 'survey')} />
          <Survey />
        </section>
        <section aria-label="Hydrostatics">
          <h3>At her design waterline</h3>
          <HullFigures />
        </section>
      </div>
    </div>
  );
}
