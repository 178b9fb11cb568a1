/** What each publication takes for downflooding: which openings count, and the angle that gives. */
import type { ConditionResult } from '../contract.ts';
import { angleWords } from '../shared/answer/criteria.ts';
import { ResultExplainButton } from '../shared/explain/result-explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';

export function FloodingByRuleTable({ now }: { now: ConditionResult }) {
  if (now.downflooding_by_rule.length === 0 || now.openings.length === 0) return null;
  return (
    <>
      <h3>Downflooding by each rule</h3>
      <ScrollBox label="Downflooding by each rule">
        <table class="by-rule">
          <thead>
            <tr>
              <th scope="col">rule</th>
              <th scope="col" class="n">
                floods at
              </th>
              <th scope="col">openings that count</th>
              <th scope="col">grade</th>
            </tr>
          </thead>
          <tbody>
            {now.downflooding_by_rule.map((rule) => (
              <tr key={rule.id}>
                <th scope="row">{rule.document}</th>
                <td class="n">
                  {rule.angle_deg === null ? (
                    'none under'
                  ) : (
                    <ResultExplainButton
                      boat={now}
                      name={`downflooding angle, ${rule.document}`}
                      figure={`downflooding_by_rule.${rule.id}.angle_deg`}
                    >
                      {angleWords(rule.angle_deg)}
                    </ResultExplainButton>
                  )}
                  <small> {rule.opening}</small>
                </td>
                <td>
                  {rule.openings}
                  {rule.undecided.length > 0 && (
                    <small> Too little is known of: {rule.undecided.join('; ')}.</small>
                  )}
                </td>
                <td title={rule.source}>{rule.grade}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </ScrollBox>
    </>
  );
}
