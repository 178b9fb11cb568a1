/** The result of what was done, read aloud once she has settled. */
import { useEffect, useState } from 'preact/hooks';
import { useBoat, useSnapshot } from '../../session/context.tsx';
import { answerFigures, targetsNow } from '../../shared/answer/answer-line.ts';

export function AnnouncedResult() {
  const { working, condition } = useBoat();
  const snapshot = useSnapshot();
  const [words, setWords] = useState('');
  useEffect(() => {
    if (snapshot.busy || !snapshot.did) return;
    const targets = targetsNow(working.assessment, snapshot.full?.assessment);
    const line = answerFigures(working.assessment, targets, condition);
    const results = line.map(({ label, value, beside, verdict }) =>
      [label, value, beside, verdict].filter(Boolean).join(' '),
    );
    setWords(`${snapshot.did}. ${results.join('; ')}.`);
  }, [snapshot.busy, snapshot.did, working.edit]);
  return (
    <p class="unseen" role="status" data-spoken>
      {words}
    </p>
  );
}
