/** Targets that are missed, and what would bring each back: weights that may move, by estimate. */
import type { MoveResult, TargetResult, WayOutResult } from '../../contract.ts';
import { useBoat, useEditing, useRoute } from '../../session/context.tsx';
import {
  askedWords,
  isMissed,
  resultWords,
  targetValueWords,
  verdictWords,
} from '../../shared/answer/answer-line.ts';
import { couldMove, needWords } from '../../shared/answer/ways-out.ts';
import { at } from '../../shared/boat/document.ts';
import { ExplainButton } from '../../shared/explain/explain-button.tsx';
import { whereEntered } from '../../shared/explain/explained.ts';
import { PopoverButton } from '../../shared/explain/popover-button.tsx';
import { reveal } from '../../shared/explain/reveal.ts';
import { WhenEditable } from '../../shared/fields/editing.tsx';
import { quantity } from '../../shared/words/numbers.ts';
import { count, lastKey, plainWords, title } from '../../shared/words/plain-words.ts';

interface Props {
  readonly targets: readonly TargetResult[];
  /** Those that the line above does not say. */
  readonly more: readonly TargetResult[];
}

export function WaysOut({ targets, more }: Props) {
  const { condition } = useBoat();
  const missed = targets.filter(isMissed);
  if (missed.length === 0) return null;
  const here = missed.filter((one) => one.condition === condition);
  const elsewhere = missed.filter((one) => one.condition !== condition);
  const list = (
    <div class="ways-out">
      {here.map((target) => (
        <MissedTarget key={target.id} target={target} />
      ))}
      {elsewhere.length > 0 && <Elsewhere targets={elsewhere} />}
    </div>
  );
  return (
    <>
      {more.length > 0 && (
        <PopoverButton words={moreWords(more, condition)} label="Missed targets" class="quiet">
          {list}
        </PopoverButton>
      )}
      {here.length > 0 && (
        <PopoverButton words="A way out" label="A way out">
          {list}
        </PopoverButton>
      )}
    </>
  );
}

/** How many more are missed, and where, if only elsewhere. */
function moreWords(more: readonly TargetResult[], condition: string): string {
  const isElsewhere = more.every((one) => one.condition !== condition);
  return isElsewhere
    ? `${count(more.length, 'target')} missed elsewhere`
    : `${count(more.length, 'more target')} missed`;
}

function MissedTarget({ target }: { target: TargetResult }) {
  const { value, way_out: way } = target;
  return (
    <section aria-label={plainWords(target.id)}>
      <p class="opened-title">
        {title(resultWords(target.result))}{' '}
        {value !== null && (
          <ExplainButton
            explained={{
              title: `Target: ${plainWords(target.id)}`,
              path: `targets.${target.id}.value`,
            }}
          >
            {targetValueWords(target, value)}
          </ExplainButton>
        )}
        , you asked for {askedWords(target)}: <b>{verdictWords(target)}</b>
      </p>
      {way ? <WayOut target={target} way={way} /> : <p>No single weight would fix this here.</p>}
    </section>
  );
}

function WayOut({ target, way }: { target: TargetResult; way: WayOutResult }) {
  const need = needWords(way);
  if (way.moves.length === 0)
    return (
      <>
        <p>{need} No weight that may move would help.</p>
        <CouldMove way={way} />
      </>
    );
  return (
    <>
      <ul>
        {way.moves.map((move) => (
          <Move key={move.path} target={target} move={move} />
        ))}
      </ul>
      <p class="about">
        Estimated from the moment needed. {need}{' '}
        <WhenEditable>She is floated again when you move one; Undo takes it back.</WhenEditable>
      </p>
    </>
  );
}

function Move({ target, move }: { target: TargetResult; move: MoveResult }) {
  const { document } = useBoat();
  const { session } = useEditing();
  const { path, from_x_m: from, to_x_m: to } = move;
  const name = plainWords(lastKey(path.slice(0, path.lastIndexOf('.'))));
  const far = quantity(Math.abs(to - from), 'm', 0.01);
  const take = () => {
    const place = at(document, path);
    if (Array.isArray(place))
      session.set(path, place.with(0, to), `${name} at ${quantity(to, 'm', 0.01)}`);
  };
  return (
    <li>
      <span>
        <b>{title(name)}</b> {far} {to < from ? 'forward' : 'aft'}, to {quantity(to, 'm', 0.01)}
        <small>
          leaves about {targetValueWords(target, move.value)}
          {move.is_enough ? ', enough' : ', not enough by itself'}
        </small>
      </span>
      <WhenEditable>
        <button type="button" aria-label={`Move it: ${name} ${far}`} onClick={take}>
          Move it
        </button>
      </WhenEditable>
    </li>
  );
}

/** Weights that could be allowed to move: each leads to its line in the ledger. */
function CouldMove({ way }: { way: WayOutResult }) {
  const { working } = useBoat();
  const { go } = useRoute();
  const could = couldMove(working.assessment.items, way);
  if (could.length === 0) return null;
  const open = (path: string) => {
    const where = whereEntered(path);
    if (!where) return;
    go(where);
    reveal(path);
  };
  return (
    <WhenEditable>
      <p>
        Enter how far one may be moved (“May be shifted”):{' '}
        {could.map(({ path }) => (
          <button key={path} type="button" class="quiet" onClick={() => open(path)}>
            {title(lastKey(path))}
          </button>
        ))}
      </p>
    </WhenEditable>
  );
}

/** Targets missed in other conditions: each leads there. */
function Elsewhere({ targets }: { targets: readonly TargetResult[] }) {
  const { go } = useRoute();
  return (
    <>
      <p class="opened-title">In other conditions</p>
      <ul>
        {targets.map((target) => (
          <li key={target.id}>
            <span>
              {title(plainWords(target.condition))}: {resultWords(target.result)}{' '}
              {target.value !== null && targetValueWords(target, target.value)}, you asked for{' '}
              {askedWords(target)}: <b>{verdictWords(target)}</b>
            </span>
            <button type="button" onClick={() => go({ condition: target.condition })}>
              Look at it
            </button>
          </li>
        ))}
      </ul>
    </>
  );
}
