/** The result of what was done, read aloud once she has settled. */
import { useEffect, useState } from 'preact/hooks';
import { useBoat, useSnapshot } from '../session/context.tsx';
import { figures } from '../shared/answer/figures.ts';
import { comparedIn } from '../shared/answer/floats.ts';

const READ = ['displacement', 'trim', 'list', 'gm'];

export function AnnouncedResult() {
  const { working, condition } = useBoat();
  const snapshot = useSnapshot();
  const [words, setWords] = useState('');
  useEffect(() => {
    if (snapshot.busy || !snapshot.did) return;
    const results = figures(comparedIn(working.assessment), condition)
      .filter((f) => READ.includes(f.id))
      .map((f) => `${f.label} ${f.value} ${f.side}`.trim());
    setWords(`${snapshot.did}. ${results.join(', ')}.`);
  }, [snapshot.busy, snapshot.did, working.edit]);
  return (
    <p class="unseen" role="status" data-spoken>
      {words}
    </p>
  );
}
