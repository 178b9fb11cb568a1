/** What an opened number shows: its meaning, formula and inputs, each of which opens in turn. */

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { Explanation, Ingredient } from '../../contract.ts';
import * as api from '../../session/api.ts';
import { useBoat, useEditing, useRoute } from '../../session/context.tsx';
import { CommentOn } from '../comments/composer.tsx';
import { guideEntryOf } from '../words/meanings.ts';
import { withNames } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { figureWords, gradeWords, inputWords, whereEntered } from './explained.ts';
import { MoreInGuide } from './more-in-guide.tsx';
import { reveal } from './reveal.ts';

/** A line of the card: what it is, its value, and the path where that opens in turn. */
export type ExplanationLine = readonly [name: string, value: string, path?: string];

export interface Explained {
  readonly title: string;
  readonly meaning?: string;
  readonly rows?: readonly ExplanationLine[];
  /** Path of the result, or of a value of the document behind `document.`. */
  readonly path?: string;
}

interface Props {
  readonly explained: Explained;
  readonly place: () => void;
  readonly close: () => void;
}

/** One step on the way from the number that was opened first. */
interface TrailStep {
  readonly name: string;
  readonly path: string;
}

export function ExplanationCard({ explained, place, close }: Props) {
  const [trail, setTrail] = useState<readonly TrailStep[]>([]);
  const heading = useRef<HTMLParagraphElement>(null);
  const here = trail.at(-1);
  const path = here?.path ?? explained.path;
  const [explanation, trouble] = useExplanation(path);
  useLayoutEffect(place, [path, explanation, trouble]);
  const walked = useRef(false);
  useEffect(() => {
    if (walked.current) heading.current?.focus();
  }, [trail]);
  const walk = (steps: readonly TrailStep[]) => {
    walked.current = true;
    setTrail(steps);
  };
  const open = (name: string, to: string) => walk([...trail, { name, path: to }]);
  return (
    <>
      <Trail title={explained.title} trail={trail} walk={walk} />
      <p class="opened-title" ref={heading} tabIndex={-1}>
        {here ? <NameOf step={here} explanation={explanation} /> : explained.title}
      </p>
      {here ? (
        <p class="figure-opened">{explanation && figureWords(explanation)}</p>
      ) : (
        <Root explained={explained} explanation={explanation} open={open} />
      )}
      {explanation && <Made explanation={explanation} open={open} close={close} />}
      {trouble && <p class="about">{trouble}</p>}
      <MoreInGuide entry={guideEntryOf(path ?? '')} close={close} />
      {path && <PathOf path={path} close={close} />}
    </>
  );
}

const NameOf = ({
  step,
  explanation,
}: {
  step: TrailStep;
  explanation: Explanation | undefined;
}) => (
  <>
    {withNames(explanation?.name ?? step.name)}
    {explanation?.of && <small> {withNames(explanation.of)}</small>}
  </>
);

interface TrailProps {
  readonly title: string;
  readonly trail: readonly TrailStep[];
  readonly walk: (steps: readonly TrailStep[]) => void;
}

/** The numbers opened on the way, each leads back. */
function Trail({ title, trail, walk }: TrailProps) {
  if (trail.length === 0) return null;
  return (
    <nav aria-label="Opened on the way">
      {[title, ...trail.slice(0, -1).map((step) => step.name)].map((name, i) => (
        <button key={i} type="button" class="quiet" onClick={() => walk(trail.slice(0, i))}>
          {name}
        </button>
      ))}
    </nav>
  );
}

/** The path of an opened number, and a comment on it. */
function PathOf({ path, close }: { path: string; close: () => void }) {
  const plain = path.replace(/^document\./, '');
  return (
    <p class="about">
      <code>{plain}</code> <CommentOn on={{ path: plain }} also={close} />
    </p>
  );
}

type Open = (name: string, path: string) => void;

interface RootProps {
  readonly explained: Explained;
  readonly explanation: Explanation | undefined;
  readonly open: Open;
}

function Root({ explained: { meaning, rows }, explanation, open }: RootProps) {
  return (
    <>
      {meaning && <p>{reworded(meaning)}</p>}
      {!rows && <p class="figure-opened">{explanation && figureWords(explanation)}</p>}
      {rows && (
        <table>
          <tbody>
            {rows.map(([name, value, path]) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td>{path ? <Way name={name} path={path} open={open} words={value} /> : value}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </>
  );
}

interface WayProps {
  readonly name: string;
  readonly path: string;
  readonly words: string;
  readonly open: Open;
}

const Way = ({ name, path, words, open }: WayProps) => (
  <button type="button" class="way" onClick={() => open(name, path)}>
    {words}
  </button>
);

interface MadeProps {
  readonly explanation: Explanation;
  readonly open: Open;
  readonly close: () => void;
}

function Made({ explanation, open, close }: MadeProps) {
  return (
    <>
      {explanation.formula && (
        <p class="formula">
          <span class="unseen">Formula: </span>
          {explanation.formula}
        </p>
      )}
      {explanation.inputs.length > 0 && (
        <table class="made-of" aria-label="Calculated from">
          <tbody>
            {explanation.inputs.map((input, i) => (
              <Input key={`${input.path}${i}`} input={input} open={open} />
            ))}
          </tbody>
        </table>
      )}
      {explanation.note && <p class="about">{reworded(explanation.note)}</p>}
      <p class="source">
        {explanation.source} <b>{gradeWords(explanation.grade)}</b>
      </p>
      {explanation.entered && <Entered path={explanation.entered} close={close} />}
    </>
  );
}

function Input({ input, open }: { input: Ingredient; open: Open }) {
  return (
    <tr>
      <td class="symbol">{input.symbol}</td>
      <th scope="row">
        <Way name={input.name} path={input.path} open={open} words={withNames(input.name)} />
      </th>
      <td class="n">
        {inputWords(input)}
        {input.words && <small> {reworded(input.words)}</small>}
      </td>
    </tr>
  );
}

/** Leads to the field or the line in which a value is entered. */
function Entered({ path, close }: { path: string; close: () => void }) {
  const { go } = useRoute();
  const where = whereEntered(path);
  if (!where) return <p class="about">It is entered in the document file.</p>;
  return (
    <p>
      <button
        type="button"
        class="quiet"
        onClick={() => {
          close();
          go(where);
          reveal(path);
        }}
      >
        Go to where it is entered
      </button>
    </p>
  );
}

/** The explanation of a path as the boat is now, or why there is none. */
function useExplanation(path: string | undefined): readonly [Explanation | undefined, string] {
  const { session } = useEditing();
  const { working } = useBoat();
  const { route } = useRoute();
  const [answer, setAnswer] = useState<ExplanationAnswer>({
    path: undefined,
    explanation: undefined,
    trouble: '',
  });
  useEffect(() => {
    if (path === undefined) return;
    const asked = new AbortController();
    api
      .explain(
        session.refit,
        { option: route.option, revision: route.revision },
        path,
        asked.signal,
      )
      .then((explanation) => setAnswer({ path, explanation, trouble: '' }))
      .catch((error: unknown) => {
        if (asked.signal.aborted) return;
        const trouble = error instanceof Error ? error.message : 'No answer.';
        setAnswer({ path, explanation: undefined, trouble });
      });
    return () => asked.abort();
  }, [path, working.edit, route.option, route.revision]);
  return answer.path === path ? [answer.explanation, answer.trouble] : [undefined, ''];
}

interface ExplanationAnswer {
  readonly path: string | undefined;
  readonly explanation: Explanation | undefined;
  readonly trouble: string;
}
