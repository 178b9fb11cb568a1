/** Why a boat has no results in the condition that is looked at. */
import { useBoat } from '../../session/context.tsx';
import { unansweredIn, unansweredWords } from '../../shared/answer/floats.ts';

export function NoResults() {
  const { working, condition } = useBoat();
  const rows = unansweredIn(working.assessment, condition);
  if (rows.length === 0) return null;
  return (
    <div class="no-results" role="status">
      {rows.map((row) => (
        <p key={row.stage}>
          <b>No results.</b> {unansweredWords(row)}
        </p>
      ))}
    </div>
  );
}
