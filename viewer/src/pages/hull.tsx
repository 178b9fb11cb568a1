/** The Hull page: measured lines, freeboards as read, and how well they agree. */
import { useApp } from '../app-context.ts';
import { BodyPlan } from '../components/body-plan.tsx';
import { Findings } from '../components/findings.tsx';
import { HullFigures } from '../components/hull-figures.tsx';
import { Lines } from '../components/lines.tsx';
import { Survey } from '../components/survey.tsx';
import { findingsAt } from '../findings.ts';
import { linesOf } from '../lines.ts';

export function HullPage() {
  const { working } = useApp();
  const lines = linesOf(working.document);
  const { findings } = working.assessment;
  return (
    <div class="page hull-page">
      <section aria-label="Measured lines">
        <h2>Hull, as measured</h2>
        <Findings findings={findingsAt(findings, 'hull')} />
        <BodyPlan lines={lines} />
        <Lines lines={lines} />
      </section>
      <section aria-label="Survey afloat">
        <h2>Afloat, as found</h2>
        <Findings findings={findingsAt(findings, 'survey')} />
        <Survey />
      </section>
      <section aria-label="Hydrostatics">
        <h2>At her design waterline</h2>
        <HullFigures />
      </section>
    </div>
  );
}
