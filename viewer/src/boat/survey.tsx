/** What was measured afloat: freeboards, the water, and the height of the centre of gravity. */
import { useBoat } from '../session/context.tsx';
import { findingsAt } from '../shared/answer/findings.ts';
import { Findings } from '../shared/feedback/finding-list.tsx';
import { GroupForm, useDocumentField } from '../shared/fields/form.tsx';
import { Survey } from '../shared/input/survey.tsx';

const OWN = ['marks', 'aboard'];

export function SurveySection() {
  const { working } = useBoat();
  const field = useDocumentField('survey');
  if (field?.kind !== 'group') return null;
  const rest = { ...field, fields: field.fields.filter((one) => !OWN.includes(one.key)) };
  return (
    <>
      <Findings findings={findingsAt(working.assessment.findings, 'survey')} />
      <Survey />
      <GroupForm path="survey" field={rest} />
    </>
  );
}
