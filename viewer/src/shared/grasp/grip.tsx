/** A handle laid over a drawing: dragged, moved by keys, or given a figure. */
import type { ComponentChildren } from 'preact';
import { useId, useLayoutEffect, useRef } from 'preact/hooks';
import { useSnapshot } from '../../session/context.tsx';
import { isWaiting, offersAt } from '../../session/working-copy/snapshot.ts';
import type { FlatPoint } from '../boat/points.ts';
import { Typed } from '../fields/field.tsx';
import { typed, unusual } from '../fields/field-numbers.ts';
import { FormRoot, Offers } from '../fields/form-source.tsx';
import type { Field } from '../fields/forms.ts';
import { NARROW_PAGE } from '../style/breakpoints.ts';
import { quantity, signedQuantity } from '../words/numbers.ts';
import { reworded } from '../words/sentences.ts';
import { type Graspable, valueWords } from './graspable.ts';
import { atItsEnd, graspStep } from './steps.ts';
import { useGrasp, type WhileHeld } from './use-grasp.ts';

interface Props {
  readonly one: Graspable;
  /** Where it lies as last answered, or with any numbers; and how large its drawing is [px]. */
  readonly spot: FlatPoint | ((values: readonly number[]) => FlatPoint);
  readonly size: FlatPoint;
  /** A bar across its way, a dot, a crate, or nothing where the drawing shows it. */
  readonly look: 'across' | 'point' | 'crate' | 'bare';
  /** Whether the drawing itself is where the hand is already. */
  readonly isFollowed?: boolean;
  readonly isPicked?: boolean;
  /** Whether it is out of sight: the keyboard still reaches it, and then it shows. */
  readonly isBehind?: boolean;
  readonly pressed?: () => void;
  readonly held?: WhileHeld;
  /** What follows from it, shown while it is held. */
  readonly answer?: string;
  /** Where its words stand, when not beside it [px from above]. */
  readonly wordsAt?: number | undefined;
  /** What may be offered where it is refused belongs to this form. */
  readonly form?: { readonly path: string; readonly fields: readonly Field[] } | undefined;
}

const nothing = () => undefined;

/** All that can be grasped in a drawing, by what it is called. */
export const Grips = ({ label, children }: { label: string; children: ComponentChildren }) => (
  <fieldset class="handle-grips" aria-label={label}>
    {children}
  </fieldset>
);

export function Grip(props: Props) {
  const { spot, look, pressed = nothing, held, isFollowed } = props;
  const grasp = useGrasp(props.one, pressed, held);
  const { one, values, accepted, from } = grasp;
  if (!values || !accepted) return null;
  const there = (at: readonly number[]): FlatPoint =>
    typeof spot === 'function' ? spot(at) : moved(one, spot, at, isFollowed ? values : accepted);
  const here = there(values);
  return (
    <>
      {from && <GhostDot at={there(from)} />}
      <button
        type="button"
        class={classOf(props, one, from !== undefined)}
        style={placeOf(here)}
        title={titleOf(one, values)}
        data-grip={one.path}
        {...ariaOf(one, values)}
        {...grasp.handlers}
      >
        <Look look={look} one={one} />
      </button>
      <Beside {...props} one={one} here={here} grasp={grasp} values={values} />
    </>
  );
}

const classOf = ({ look, isPicked, isBehind }: Props, { isNew }: Graspable, isHeld: boolean) =>
  `handle-grip ${look} ${isNew ? 'new' : ''} ${isHeld ? 'held' : ''} ${isPicked ? 'picked' : ''} ` +
  (isBehind ? 'behind' : '');

const placeOf = ([x, y]: FlatPoint) => ({ left: `${x.toFixed(1)}px`, top: `${y.toFixed(1)}px` });

/** A bar lies across its way. */
function Look({ look, one }: Pick<Props, 'look' | 'one'>) {
  const [x, y] = one.axes[0]?.way ?? [1, 0];
  const rotate = look === 'across' ? `${Math.atan2(y, x).toFixed(3)}rad` : 'none';
  return look === 'bare' ? null : <span class="handle-mark" style={{ rotate }} />;
}

/** Its words, and the figure typed, beside it. */
function Beside(props: Props & GripState) {
  const { from, typing, ownRefusals } = props.grasp;
  return (
    <>
      {from && <Words {...props} from={from} />}
      {typing && <TypedFigures {...props} />}
      {ownRefusals.length > 0 && <Refused {...props} />}
    </>
  );
}

/** Where it is with other numbers than those it lies at. */
function moved(one: Graspable, spot: FlatPoint, to: readonly number[], at: readonly number[]) {
  const by = one.axes.map((_, i) => (to[i] ?? 0) - (at[i] ?? 0));
  return one.axes.reduce<FlatPoint>(
    ([x, y], { way }, i) => [x + way[0] * (by[i] ?? 0), y + way[1] * (by[i] ?? 0)],
    spot,
  );
}

const GhostDot = ({ at }: { at: FlatPoint }) => <span class="handle-ghost" style={placeOf(at)} />;

const titleOf = (one: Graspable, values: readonly number[]) =>
  `${one.name} ${valueWords(one, values)}. Drag it, or use the arrow keys: ` +
  `${quantity(1000 * graspStep(false), 'mm', 1)}, with Shift ${quantity(1000 * graspStep(true), 'mm', 1)}. ` +
  (one.isNew ? 'Press to add it.' : 'Enter or a double press to type it.') +
  (one.remove ? ' Delete removes it.' : '');

/** One number with a range is a slider; a point, which goes two ways, says both in its name. */
function ariaOf(one: Graspable, values: readonly number[]) {
  const words = valueWords(one, values);
  const [axis] = one.axes;
  if (one.axes.length > 1 || !axis || !Number.isFinite(axis.high - axis.low))
    return { 'aria-label': `${one.name}: ${words}` };
  const shown = (value: number) => Number((value * axis.field.factor).toPrecision(6));
  return {
    role: 'slider' as const,
    'aria-label': one.name,
    'aria-valuemin': shown(Math.min(axis.low, values[0] ?? axis.low)),
    'aria-valuemax': shown(Math.max(axis.high, values[0] ?? axis.high)),
    'aria-valuenow': shown(values[0] ?? 0),
    'aria-valuetext': words,
  };
}

interface GripState extends Props {
  readonly here: FlatPoint;
  readonly values: readonly number[];
  readonly grasp: ReturnType<typeof useGrasp>;
}

/** On the side where there is room for it; on a narrow page, which scrolls, below on the window. */
function besideOf({ here: [x, y], size: [wide, high], wordsAt }: GripState) {
  if (matchMedia(NARROW_PAGE).matches) return { side: 'on-window', style: {} };
  const across =
    x > wide / 2 ? { right: `${(wide - x).toFixed(1)}px` } : { left: `${x.toFixed(1)}px` };
  const side = x > wide / 2 ? 'leftward' : 'rightward';
  if (wordsAt !== undefined) return { side, style: { ...across, top: `${wordsAt}px` } };
  const isLow = y > high / 2;
  const up = isLow ? { bottom: `${(high - y).toFixed(1)}px` } : { top: `${y.toFixed(1)}px` };
  return { side: `${side} ${isLow ? 'above' : 'below'}`, style: { ...across, ...up } };
}

/** The value while it is held, by how much it has moved, and what follows. */
function Words(props: GripState & { readonly from: readonly number[] }) {
  const { one, values, from, answer = '' } = props;
  const { side, style } = besideOf(props);
  const by = one.axes.map(({ field }, i) => {
    const step = field.unit === 'mm' ? 1 : 0.01;
    return signedQuantity(((values[i] ?? 0) - (from[i] ?? 0)) * field.factor, field.unit, step);
  });
  const end = atItsEnd(one.axes, values);
  const [axis] = one.axes;
  const odd = axis && one.axes.length === 1 ? unusual(axis.field, values[0] ?? 0) : '';
  return (
    <output class={`grasp-words ${side}`} style={style}>
      <b>
        {one.name} {valueWords(one, values)}
      </b>{' '}
      ({by.join(', ')}){end ? ' · as far as it may go' : odd && ` · ${odd}`}
      {answer && ` · ${answer}`}
    </output>
  );
}

/** The figure typed instead of dragged. */
function TypedFigures(props: GripState) {
  const { one, values, grasp } = props;
  const id = useId();
  const box = useRef<HTMLFieldSetElement>(null);
  useLayoutEffect(() => box.current?.querySelector('input')?.select(), []);
  const close = () => {
    grasp.stopTyping();
    const grip = box.current?.parentElement?.querySelector(`[data-grip="${one.path}"]`);
    if (grip instanceof HTMLElement) grip.focus();
  };
  const onKeyDown = (e: KeyboardEvent) => {
    e.stopPropagation();
    const field = fieldOf(e.target, one);
    const isRead = field && e.target instanceof HTMLInputElement && typed(field, e.target.value);
    if (e.key !== 'Escape' && (e.key !== 'Enter' || isRead === undefined)) return;
    e.preventDefault(); // or the key presses the handle that it leads back to
    close();
  };
  const leave = ({ relatedTarget: to }: FocusEvent) => {
    if (!(to instanceof Node && box.current?.contains(to))) grasp.stopTyping();
  };
  const { side, style } = besideOf(props);
  return (
    <fieldset
      ref={box}
      aria-label={one.name}
      class={`grasp-typed ${side}`}
      style={style}
      onKeyDown={onKeyDown}
      onFocusOut={leave}
    >
      {one.axes.map(({ field }, i) => (
        <span key={field.label} data-axis={i}>
          <label for={`${id}-${i}`}>{one.axes.length > 1 ? field.label : one.name}</label>
          <Typed
            id={`${id}-${i}`}
            field={field}
            value={values[i]}
            wrong={grasp.refused.length > 0}
            disabled={false}
            change={(next) => grasp.put(values.with(i, next), grasp.standing, null)}
          />
        </span>
      ))}
    </fieldset>
  );
}

function fieldOf(target: EventTarget | null, one: Graspable) {
  const within = target instanceof Element ? target.closest('[data-axis]') : null;
  return one.axes[Number(within?.getAttribute('data-axis') ?? -1)]?.field;
}

/** Why it does not go there: stays until something that goes is set, or it is put away. */
function Refused(props: GripState) {
  const { one, grasp, form } = props;
  const snapshot = useSnapshot();
  const { side, style } = besideOf(props);
  const draft = snapshot.drafts.get(one.path)?.value;
  const asked = one.read(draft);
  const waits = isWaiting(snapshot, one.path);
  return (
    <div class={`grasp-refused ${side}`} style={style} role="alert">
      {asked && (
        <b>
          {one.name} {valueWords(one, asked)} {waits ? 'waits' : 'was refused'}
          {grasp.accepted && !waits && `: it stays at ${valueWords(one, grasp.accepted)}`}.
        </b>
      )}
      {grasp.ownRefusals.map((why) => (
        <p key={why}>{reworded(why)}</p>
      ))}
      {form && (
        <FormRoot {...form}>
          <Offers offers={offersAt(snapshot, one.path)} path={one.path} value={draft} />
        </FormRoot>
      )}
      <button type="button" onClick={grasp.forget}>
        OK
      </button>
    </div>
  );
}
