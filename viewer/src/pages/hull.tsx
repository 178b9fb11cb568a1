/** The Hull page: measured lines, freeboards as read, and how well they agree. */
import { useApp } from '../app-context.ts';
import { BodyPlan } from '../components/body-plan.tsx';
import { Editing } from '../components/editing.tsx';
import { Findings } from '../components/findings.tsx';
import { HullFigures } from '../components/hull-figures.tsx';
import { Lines } from '../components/lines.tsx';
import { PageHead } from '../components/page-head.tsx';
import { Survey } from '../components/survey.tsx';
import { findingsAt } from '../findings.ts';
import { linesOf } from '../lines.ts';

export function HullPage() {
  const { working } = useApp();
  const lines = linesOf(working.document);
  const { findings } = working.assessment;
  return (
    <div class="page">
      <PageHead title="Hull">
        <p class="lead">
          Everything rests on what was measured: the lines ashore, the freeboards afloat.{' '}
          <Editing>Put a figure right here and the whole boat is answered again.</Editing>
        </p>
      </PageHead>
      <div class="hull-page">
        <section aria-label="Measured lines">
          <h3>As measured</h3>
          <Findings findings={findingsAt(findings, 'hull')} />
          <BodyPlan lines={lines} />
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
