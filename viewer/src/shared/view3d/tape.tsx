/** A tape laid from one spot of the boat to another: pressed, chosen by name, or typed. */
import { useLayoutEffect, useMemo, useState } from 'preact/hooks';
import type { Spot } from '../../scene/aim.ts';
import type { BoatView } from '../../scene/view.ts';
import { useBoat } from '../../session/context.tsx';
import { pinOn, pinWords } from '../../session/review.ts';
import { floatsIn } from '../answer/floats.ts';
import { distanceOf, type NamedPlace, namedPlaces, type Place, wayOf } from '../boat/distances.ts';
import type { FlatPoint, Point } from '../boat/points.ts';
import { amount, quantity, stepFor } from '../words/numbers.ts';
import { quantityTyped } from '../words/typed.ts';
import { isMetric, unitSign } from '../words/units.ts';
import type { Ref } from './use-boat-view.ts';

/** A place, or the key of a named one: that one goes where the boat's changes take it. */
type End = Place | string | undefined;

const AXES = ['aft', 'to starboard', 'up'] as const;
/** What a typed place is shown to [m]: a millimetre, or a sixteenth of an inch. */
const typedStep = () => (isMetric() ? 0.001 : 0.002);

interface Tape {
  readonly open: boolean;
  readonly turn: () => void;
  /** Takes a pressed spot as the end that is lacking; the third begins anew. */
  readonly press: (spot: Spot | undefined) => void;
  readonly set: (which: 0 | 1, end: End) => void;
  readonly names: readonly NamedPlace[];
  readonly ends: readonly [End, End];
  readonly places: readonly [Place | undefined, Place | undefined];
}

export function useTape(): Tape {
  const { working } = useBoat();
  const [open, setOpen] = useState(false);
  const [ends, setEnds] = useState<readonly [End, End]>([undefined, undefined]);
  const names = useMemo(() => {
    const { parts, items } = working.assessment;
    const freeboards = floatsIn(working.assessment)[0]?.freeboards ?? [];
    return namedPlaces({ profile: working.profile, freeboards, parts, items });
  }, [working]);
  const placeOf = (end: End) =>
    typeof end === 'string' ? names.find((one) => one.key === end) : end;
  const places = [placeOf(ends[0]), placeOf(ends[1])] as const;
  const press = (spot: Spot | undefined) => {
    if (!spot) return;
    const step = stepFor(spot.within * 1000, 1);
    const end = { words: pinWords({ ...pinOn(spot), point_m: null }), point: spot.point, step };
    setEnds(places[0] && !places[1] ? [ends[0], end] : [end, undefined]);
  };
  return {
    open,
    turn: () => setOpen(!open),
    press,
    set: (which, end) => setEnds(which === 0 ? [end, ends[1]] : [ends[0], end]),
    names,
    ends,
    places,
  };
}

/** The reading below the drawing, and where each end is chosen or typed. */
export function TapeReading({ tape }: { tape: Tape }) {
  const [from, to] = tape.places;
  const distance = from && to && distanceOf(from, to);
  return (
    <section
      class="tape"
      aria-label="Distance"
      onKeyDown={(e) => e.key === 'Escape' && tape.turn()}
    >
      <output>
        {distance ? (
          <>
            <b>{distance.straight}</b> {distance.parts}
            {distance.step > 1 && (
              <small>
                {' '}
                read to {quantity(distance.step, 'mm', distance.step)}: zoom in, or press a corner,
                for a finer reading
              </small>
            )}
          </>
        ) : (
          `Press ${from ? 'the spot it goes to' : 'the spot it begins at'} in the drawing, choose one by name, or type where it is.`
        )}
      </output>
      <EndOf name="from" tape={tape} which={0} />
      <EndOf name="to" tape={tape} which={1} />
    </section>
  );
}

interface EndProps {
  readonly name: string;
  readonly tape: Tape;
  readonly which: 0 | 1;
}

function EndOf({ name, tape, which }: EndProps) {
  const end = tape.ends[which];
  const place = tape.places[which];
  const shown = (axis: number) => (place ? amount(place.point[axis] ?? 0, 'm', typedStep()) : '');
  const type = (input: HTMLInputElement, axis: number) => {
    const metres = quantityTyped(input.value, 'm');
    if (!Number.isFinite(metres)) {
      input.value = shown(axis);
      return;
    }
    const along = (i: number) => (i === axis ? metres : (place?.point[i] ?? 0));
    tape.set(which, { words: 'typed', point: [along(0), along(1), along(2)], step: 1 });
  };
  return (
    <fieldset>
      <legend>{name}</legend>
      <select
        aria-label={`${name}, by name`}
        value={typeof end === 'string' ? end : ''}
        onChange={(e) => tape.set(which, e.currentTarget.value || undefined)}
      >
        <option value="">{typeof end === 'object' ? end.words : 'a spot'}</option>
        {[...new Set(tape.names.map(({ group }) => group))].map((group) => (
          <optgroup key={group} label={group}>
            {tape.names
              .filter((one) => one.group === group)
              .map(({ key, words }) => (
                <option key={key} value={key}>
                  {words}
                </option>
              ))}
          </optgroup>
        ))}
      </select>
      {AXES.map((way, axis) => (
        <label key={way}>
          <input
            inputMode="decimal"
            autocomplete="off"
            aria-label={`${name}, ${unitSign('m')} ${way}`}
            value={shown(axis)}
            onChange={(e) => type(e.currentTarget, axis)}
          />
          {unitSign('m')} {way}
        </label>
      ))}
    </fieldset>
  );
}

interface LineProps {
  readonly tape: Tape;
  readonly view: Ref<BoatView>;
  /** Called with every picture that is drawn. */
  readonly drawn: Ref<() => void>;
}

/** The line itself over the drawing, and dashed the way along, across and up. */
export function TapeLine({ tape, view, drawn }: LineProps) {
  const [, countFrame] = useState(0);
  useLayoutEffect(() => {
    drawn.current = () => countFrame((n) => n + 1);
    return () => {
      drawn.current = null;
    };
  }, []);
  const [from, to] = tape.places;
  const now = view.current;
  if (!now || !(from ?? to)) return null;
  const path = (points: readonly Point[]) =>
    `M${points
      .map((point) =>
        now
          .spot(point)
          .map((v) => v.toFixed(1))
          .join(),
      )
      .join('L')}`;
  return (
    <svg class="tape-line" aria-hidden="true">
      {from && to && (
        <>
          <path class="way" d={path(wayOf(from.point, to.point))} />
          <path d={path([from.point, to.point])} />
          <Measured at={now.spot(middleOf(from.point, to.point))}>
            {distanceOf(from, to).straight}
          </Measured>
        </>
      )}
      {[from, to].map((place, i) => {
        if (!place) return null;
        const [x, y] = now.spot(place.point);
        return <circle key={i} cx={x.toFixed(1)} cy={y.toFixed(1)} r="4" />;
      })}
    </svg>
  );
}

const middleOf = (a: Point, b: Point): Point => [
  (a[0] + b[0]) / 2,
  (a[1] + b[1]) / 2,
  (a[2] + b[2]) / 2,
];

const Measured = ({ at: [x, y], children }: { at: FlatPoint; children: string }) => (
  <text x={(x + 8).toFixed(1)} y={(y - 6).toFixed(1)}>
    {children}
  </text>
);
