/** Weights entered in a line, or pasted from a spreadsheet: all of them or none, one undo. */
import { useMemo, useState } from 'preact/hooks';
import { useBoat, useEditing } from '../session/context.tsx';
import { at } from '../shared/boat/document.ts';
import { AddChange } from '../shared/input/adding.tsx';
import { count, title } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';
import { isMetric } from '../shared/words/units.ts';
import { type EnteredWeight, entered, enteredWords } from './entered.ts';

/** Entering weights; while there is no change, the first change. */
export function EntryBox({ chosen }: { chosen: string }) {
  const { changes } = useBoat().working.assessment;
  if (changes.length > 0) return <Entering chosen={chosen} />;
  return (
    <>
      <p class="about">
        Every weight belongs to a change, such as “electric drive” or “new deckhouse”. Add the first
        one; then type its weights line by line, or paste them.
      </p>
      <AddChange />
    </>
  );
}

function Entering({ chosen }: { chosen: string }) {
  const { document, working } = useBoat();
  const { session } = useEditing();
  const [text, setText] = useState('');
  const [own, setOwn] = useState('');
  const [wrong, setWrong] = useState<readonly string[]>([]);
  const [done, setDone] = useState('');
  const changes = working.assessment.changes.map(({ id }) => id);
  const change = chosen || (changes.includes(own) ? own : (changes[0] ?? ''));
  const isTaken = (path: string) => at(document, path) !== undefined;
  const read = useMemo(() => entered(text, { change, changes, isTaken }), [text, change, working]);
  const isSeveral = text.trim().includes('\n');
  const add = async () => {
    setDone('');
    setWrong(read.misread);
    if (read.misread.length > 0) return;
    const why = await addAll(session, read.weights);
    setWrong(why);
    if (why.length > 0) return;
    setText('');
    setDone(`${enteredWords(read)} added.`);
  };
  return (
    <form
      class="entry-box"
      aria-label="Enter or paste weights"
      onSubmit={(e) => {
        e.preventDefault();
        void add();
      }}
    >
      <label class="entry-text">
        <span>Enter or paste weights</span>
        <textarea
          rows={isSeveral ? 6 : 1}
          value={text}
          placeholder={
            isMetric() ? 'wind generator; 42; 10.9; 0; 3.4' : 'wind generator; 92; 35; 0; 11'
          }
          onInput={(e) => {
            setText(e.currentTarget.value);
            setDone('');
            setWrong([]);
          }}
          onKeyDown={(e) => {
            if (e.key !== 'Enter' || e.shiftKey || isSeveral) return;
            e.preventDefault();
            void add();
          }}
        />
      </label>
      <label class="entry-change">
        <span>add to change</span>
        <select value={change} onChange={(e) => setOwn(e.currentTarget.value)} disabled={!!chosen}>
          {changes.map((id) => (
            <option key={id} value={id}>
              {title(id)}
            </option>
          ))}
        </select>
      </label>
      <button type="submit" disabled={text.trim() === ''}>
        {isSeveral ? `Add ${enteredWords(read)}` : 'Add'}
      </button>
      <p class="about">
        name; {isMetric() ? 'kg; x; y; z in metres' : 'lb; x; y; z in feet'}; then, if you like:
        comes off, goes on or moves; where the figure is from; the change. A table from a
        spreadsheet may begin with a heading row: what, {isMetric() ? 'kg' : 'lb'}, x, y, z, how,
        from, change, to x, to y, to z.
      </p>
      <Told wrong={wrong} done={done} />
    </form>
  );
}

function Told({ wrong, done }: { wrong: readonly string[]; done: string }) {
  return (
    <>
      {wrong.length > 0 && (
        <div class="refused" role="alert">
          <p>Nothing was added: {count(wrong.length, 'mistake')} to correct.</p>
          <ul>
            {wrong.map((sentence) => (
              <li key={sentence}>{reworded(sentence)}</li>
            ))}
          </ul>
        </div>
      )}
      <p role="status" class="about">
        {done}
      </p>
    </>
  );
}

type EntrySession = ReturnType<typeof useEditing>['session'];

/** Sends them as one step, named as they were typed; answers why they were not taken. */
function addAll(
  session: EntrySession,
  weights: readonly EnteredWeight[],
): Promise<readonly string[]> {
  for (const { key, name } of weights) {
    const says = key.replaceAll('-', ' ') === name.toLowerCase();
    session.called(key, says ? '' : name);
  }
  const [one] = weights;
  const label =
    weights.length === 1 && one ? `${one.name} added` : `${weights.length} weights added`;
  return session.attempt(
    weights.map(({ path, value }) => ({ op: 'set' as const, path, value })),
    label,
  );
}
