/** Criteria by the document they are written in; each row opens what it was made from. */

import { useId, useState } from 'preact/hooks';
import type { ConditionResult, CriterionResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import {
  byDocument,
  criterionValueWords,
  floodsWords,
  GRADE_WORDS,
  input,
  limitWords,
  marginWords,
  riseWords,
  stateSign,
  stateWords,
} from '../shared/answer/criteria.ts';
import {
  byVerdict,
  doubtWords,
  tallied,
  type VerdictGroup,
} from '../shared/answer/criteria-groups.ts';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { reworded } from '../shared/words/sentences.ts';

interface Props {
  readonly now: ConditionResult;
  readonly before: ConditionResult | undefined;
}

export function CriteriaTable({ now, before }: Props) {
  const { cockpits } = useBoat().working.assessment;
  const wells = cockpits.filter(({ stage }) => stage === now.stage);
  const { missed } = tallied(wells.flatMap(({ criteria }) => criteria));
  if (now.criteria.length === 0)
    return <p class="about">No criterion is judged: that needs levers up to 90°.</p>;
  return (
    <>
      <p class="lead">
        For comparing the boat before and after. It does not say that she meets a rule: most were
        written for other vessels. “To be confirmed” means that the rule’s own text was not read, or
        that a figure is assumed.
        {wells.length > 0 &&
          ` The cockpits have criteria of their own further down: ${missed.length} missed.`}
      </p>
      {byVerdict(now.criteria).map(([group, criteria]) => (
        <Group key={group} group={group} criteria={criteria} now={now} before={before} />
      ))}
    </>
  );
}

const GROUP_TITLES: Readonly<Record<VerdictGroup, string>> = {
  missed: '✗ Missed',
  'within doubt': '~ Within doubt',
  'to be confirmed': '? To be confirmed',
  met: '✓ Met',
};
const NOTHING: Readonly<Record<VerdictGroup, string>> = {
  missed: 'None of these criteria is clearly missed.',
  'within doubt': 'None is within doubt of its limit.',
  'to be confirmed': 'None is to be confirmed.',
  met: 'No criterion is met.',
};

interface GroupProps extends Props {
  readonly group: VerdictGroup;
  readonly criteria: readonly CriterionResult[];
}

/** The criteria of one verdict, folded; those that are missed stand open, in doubt or not. */
function Group({ group, criteria, now, before }: GroupProps) {
  const old = new Map(before?.criteria.map((c) => [c.id, c]));
  const isInDoubt = group === 'within doubt';
  const sides = doubtWords(criteria);
  if (criteria.length === 0) return <p class="no-criteria">{NOTHING[group]}</p>;
  return (
    <details
      class="criteria-group"
      open={group === 'missed' || (isInDoubt && sides.includes('not met'))}
    >
      <summary>
        <b>{GROUP_TITLES[group]}</b> {isInDoubt ? sides : criteria.length}
      </summary>
      <ScrollBox label={`Criteria ${group}`}>
        <table class="criteria">
          <thead>
            <tr>
              {['criterion', 'state', 'refit', 'as found', 'required', 'floods at', 'grade'].map(
                (head) => (
                  <th key={head} scope="col" class={NUMBERS.includes(head) ? 'n' : ''}>
                    {head === 'refit' && now.stage !== 'refit' ? 'now' : head}
                  </th>
                ),
              )}
            </tr>
          </thead>
          {byDocument(criteria).map(([document, own]) => (
            <tbody key={document}>
              <tr class="document">
                <th scope="rowgroup" colSpan={7}>
                  {document}
                </th>
              </tr>
              {own.map((one) => (
                <Criterion
                  key={one.id}
                  one={one}
                  before={old.get(one.id)}
                  path={`conditions.${now.id}.${now.stage}.criteria.${one.id}`}
                />
              ))}
            </tbody>
          ))}
        </table>
      </ScrollBox>
    </details>
  );
}

const NUMBERS: readonly string[] = ['refit', 'as found'];

interface CriterionProps {
  readonly one: CriterionResult;
  /** What the boat as found answers; null where only one boat is shown. */
  readonly before: CriterionResult | undefined | null;
  readonly path: string;
}

export function Criterion({ one, before, path }: CriterionProps) {
  const [open, setOpen] = useState(false);
  const id = useId();
  return (
    <>
      <tr>
        <th scope="row">
          <button
            type="button"
            class="quiet"
            aria-expanded={open}
            aria-controls={id}
            onClick={() => setOpen(!open)}
          >
            {one.title}
          </button>
        </th>
        <td class="state">
          <span aria-hidden="true">{stateSign(one)}</span> {stateWords(one)}
          {one.margin_sd !== null && <small> {marginWords(one)}</small>}
          {before && stateWords(before) !== stateWords(one) && (
            <small> (as found: {stateWords(before)})</small>
          )}
        </td>
        <td class="n">{criterionValueWords(one)}</td>
        {before !== null && <td class="n was">{before ? criterionValueWords(before) : '—'}</td>}
        <td>{limitWords(one)}</td>
        {before !== null && (
          <td class="floods-at">
            <FloodsAt one={one} path={path} />
          </td>
        )}
        <td>{one.grade}</td>
      </tr>
      <tr class="made-from" id={id} hidden={!open}>
        {open && (
          <td colSpan={before === null ? 5 : 7}>
            <MadeFrom one={one} path={path} />
          </td>
        )}
      </tr>
    </>
  );
}

/** The downflooding that a criterion took by its own definition, and the opening. */
function FloodsAt({ one, path }: { one: CriterionResult; path: string }) {
  const words = floodsWords(one);
  if (one.downflooding_angle_deg === null) return <>{words}</>;
  const name = `downflooding angle, ${one.title}`;
  return (
    <>
      <ExplainButton explained={{ title: name, path: `${path}.downflooding_angle_deg` }}>
        {words}
      </ExplainButton>{' '}
      <small>{one.downflooding_opening}</small>
    </>
  );
}

function MadeFrom({ one, path }: { one: CriterionResult; path: string }) {
  return (
    <>
      <dl>
        <dt>formula</dt>
        <dd>{one.formula}</dd>
        <dt>limit</dt>
        <dd>{one.limit_in_words}</dd>
        {one.margin_sd !== null && (
          <>
            <dt>margin</dt>
            <dd>
              <ExplainButton
                explained={{ title: `Margin: ${one.title}`, path: `${path}.margin_sd` }}
              >
                {marginWords(one)}
              </ExplainButton>
              {one.vcg_rise_m !== null && `; ${riseWords(one)}`}
            </dd>
          </>
        )}
        <dt>source</dt>
        <dd>{one.source}</dd>
        <dt>written for</dt>
        <dd>{one.written_for}</dd>
        <dt>grade</dt>
        <dd>
          {one.grade}: {GRADE_WORDS[one.grade] ?? 'not graded'}
        </dd>
        {one.remarks.length > 0 && (
          <>
            <dt>remarks</dt>
            {one.remarks.map((remark) => (
              <dd key={remark}>{reworded(remark)}</dd>
            ))}
          </>
        )}
      </dl>
      {one.inputs.length > 0 && (
        <ul aria-label="Inputs">
          {one.inputs.map(({ name, value, unit }) => (
            <li key={name}>
              {name}{' '}
              <ExplainButton explained={{ title: name, path: `${path}.inputs.${name}.value` }}>
                <b>{input(value, unit)}</b>
              </ExplainButton>
            </li>
          ))}
        </ul>
      )}
    </>
  );
}
