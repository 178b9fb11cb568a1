/** The figures that matter, for the condition that is looked at. */
import { useMemo } from 'preact/hooks';
import { useBoat } from '../../session/context.tsx';
import { type Figure, figures } from '../../shared/answer/figures.ts';
import { comparedIn } from '../../shared/answer/floats.ts';
import { ExplainButton } from '../../shared/explain/explain-button.tsx';
import type { ExplanationLine } from '../../shared/explain/explanation-card.tsx';
import { Wedge } from '../../shared/feedback/wedge.tsx';
import { meaningOf } from '../../shared/words/meanings.ts';
import { title } from '../../shared/words/plain-words.ts';

export function FigureStrip() {
  const { working, condition } = useBoat();
  return (
    <div class="strip">
      {useMemo(
        () =>
          figures(comparedIn(working.assessment), condition).map((figure) => (
            <FigureCell key={figure.id} figure={figure} condition={condition} />
          )),
        [working, condition],
      )}
    </div>
  );
}

function rowsOf(figure: Figure, condition: string): readonly ExplanationLine[] {
  const sampled = figure.sampled ? ', sampled' : '';
  const plusMinus = figure.plusMinus && ` (± ${figure.plusMinus}${sampled})`;
  const now = `now, ${title(condition).toLowerCase()}`;
  const rows: ExplanationLine[] = [[now, `${figure.value} ${figure.side}${plusMinus}`]];
  if (figure.was) rows.push(['as found', figure.wasInFull, figure.wasPath]);
  if (figure.change)
    rows.push(['change', `${figure.change} (± ${figure.changePlusMinus})`, figure.changePath]);
  return rows;
}

const wasWords = ({ plusMinus, sampled, was }: Figure): string =>
  [plusMinus && `± ${plusMinus}${sampled ? ' sampled' : ''}`, was && `was ${was}`]
    .filter(Boolean)
    .join(' · ');

function FigureCell({ figure, condition }: { figure: Figure; condition: string }) {
  const { scales } = useBoat();
  const explained = {
    title: figure.label,
    meaning: meaningOf(figure.id),
    rows: rowsOf(figure, condition),
    path: figure.path,
  };
  return (
    <ExplainButton class="figure" explained={explained}>
      <span class="label">{figure.label}</span>
      <span class="value">
        <b>{figure.value}</b> <span class="side">{figure.side}</span>
      </span>
      <span class="was">{wasWords(figure)}</span>
      {figure.change && (
        <span class="change">
          {figure.trimChange !== undefined && <Wedge mm={figure.trimChange} top={scales.trimTop} />}
          {figure.change} <small>± {figure.changePlusMinus}</small>
        </span>
      )}
    </ExplainButton>
  );
}
