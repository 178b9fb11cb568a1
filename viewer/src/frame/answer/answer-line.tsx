/** The answer first: one line above every page; the nine figures are a press away. */
import { useId, useMemo, useState } from 'preact/hooks';
import { useBoat, useSnapshot } from '../../session/context.tsx';
import {
  type AnswerFigure,
  answerFigures,
  missedElsewhere,
  targetsNow,
} from '../../shared/answer/answer-line.ts';
import { usualIn } from '../../shared/answer/ways-out.ts';
import { ExplainButton } from '../../shared/explain/explain-button.tsx';
import { WhenEditable } from '../../shared/fields/editing.tsx';
import { meaningOf } from '../../shared/words/meanings.ts';
import { title } from '../../shared/words/plain-words.ts';
import { FigureStrip } from './figure-strip.tsx';
import { NoResults } from './no-results.tsx';
import { SetTarget } from './set-target.tsx';
import { WaysOut } from './ways-out.tsx';

const KEPT = 'hullchange.all-figures';

export function AnswerLine() {
  const { working, condition } = useBoat();
  const { busy, full } = useSnapshot();
  const [open, setOpen] = useState(() => localStorage.getItem(KEPT) === 'open');
  const id = useId();
  const targets = useMemo(() => targetsNow(working.assessment, full?.assessment), [working, full]);
  const line = useMemo(
    () => answerFigures(working.assessment, targets, condition),
    [working, targets, condition],
  );
  const usual = usualIn(working.assessment, condition);
  const more = missedElsewhere(targets, line);
  const turn = () => {
    localStorage.setItem(KEPT, open ? 'folded' : 'open');
    setOpen(!open);
  };
  return (
    <section class="answer" aria-label={`Answer, ${title(condition)}`} aria-busy={busy}>
      <NoResults />
      {line.length > 0 && (
        <div class="answer-line">
          {line.map((figure) => (
            <FigureInLine key={figure.id} figure={figure} />
          ))}
          <span class="answer-tools">
            <WaysOut targets={targets} more={more} />
            {usual.length > 0 && (
              <WhenEditable>
                <SetTarget usual={usual} />
              </WhenEditable>
            )}
            <button
              type="button"
              class="quiet"
              aria-expanded={open}
              aria-controls={id}
              onClick={turn}
            >
              {open ? 'Fewer figures' : 'All figures ±'}
            </button>
          </span>
        </div>
      )}
      <div id={id}>{open && <FigureStrip />}</div>
    </section>
  );
}

const NAMES: Readonly<Record<AnswerFigure['id'], string>> = {
  trim: 'Trim',
  list: 'List',
  mass: 'Displacement',
  freeboard: 'Freeboard',
  gm: 'GM upright',
};

function FigureInLine({ figure }: { figure: AnswerFigure }) {
  const { id, label, value, beside, verdict, isMissed, path } = figure;
  const meaning = meaningOf(id);
  const name = id === 'freeboard' ? title(label) : NAMES[id];
  return (
    <span class={`answer-figure of-${id} ${isMissed ? 'missed' : ''}`}>
      <ExplainButton explained={{ title: name, meaning, path }}>
        {label && <span class="label">{label} </span>}
        <b class="value">{value}</b>
      </ExplainButton>
      {beside && (
        <>
          {' '}
          <span class="beside">{beside}</span>
        </>
      )}{' '}
      {verdict && <b class="verdict">{verdict}</b>}
    </span>
  );
}
