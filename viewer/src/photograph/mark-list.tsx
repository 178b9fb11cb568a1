/** Which places are marked, how far each is off, and which comes next: offered or the owner's own. */
import type { PhotographPlace, PhotographResult } from '../contract.ts';
import { WhenEditable } from '../shared/fields/editing.tsx';
import { number, quantity } from '../shared/words/numbers.ts';
import { count } from '../shared/words/plain-words.ts';
import { ENOUGH, FEWEST, type MarkedPlace, type SetMark, type SetPlace } from './marks.ts';
import { OwnPlace } from './own-place.tsx';

interface Props {
  readonly seen: PhotographResult | undefined;
  readonly marks: readonly SetMark[];
  readonly offered: readonly PhotographPlace[];
  readonly free: readonly MarkedPlace[];
  readonly asked: MarkedPlace | undefined;
  readonly setNext: (id: string) => void;
  readonly set: SetPlace;
  readonly add: (place: MarkedPlace) => void;
  readonly nameOf: (id: string) => string;
}

export function MarkList(props: Props) {
  const { seen, marks, offered, free, asked, setNext, set, add, nameOf } = props;
  const isKnown = (mark: SetMark) =>
    mark.place_m !== undefined ||
    offered.length === 0 ||
    offered.some((place) => place.id === mark.id);
  const missing = FEWEST - marks.filter(isKnown).length;
  return (
    <div class="mark-list">
      <WhenEditable>
        {asked && (
          <label>
            Next place to mark: press it in the photograph{' '}
            <select value={asked.id} onChange={(e) => setNext(e.currentTarget.value)}>
              {free.map((p) => (
                <option key={p.id} value={p.id}>
                  {p.name}
                </option>
              ))}
            </select>
          </label>
        )}
        <OwnPlace taken={[...offered, ...marks].map((one) => one.id)} add={add} />
        {missing > 0 ? (
          <p>{count(missing, 'more mark')} needed, on both sides and at different heights.</p>
        ) : (
          marks.length < ENOUGH && (
            <p class="about">With {ENOUGH} marks or more, a cropped picture will do too.</p>
          )
        )}
      </WhenEditable>
      {seen && (
        <p>
          The marks agree to {number(seen.off_px, 0.1)} px, {quantity(seen.off_mm, 'mm', 1)} at the
          boat; the camera was {quantity(seen.away_m, 'm', 0.1)} away.
        </p>
      )}
      <ol>
        {marks.map((mark) => {
          const off = seen?.marks.find((one) => one.id === mark.id);
          const name = nameOf(mark.id);
          return (
            <li key={mark.id}>
              {name}
              {off && ` · off ${number(off.off_px, 0.1)} px, ${quantity(off.off_mm, 'mm', 1)}`}
              {!isKnown(mark) && ' · not counted: this place is no longer on the boat'}{' '}
              <WhenEditable>
                <button
                  type="button"
                  class="quiet"
                  aria-label={`Delete the mark ${name}`}
                  onClick={() => set({ id: mark.id, name }, undefined)}
                >
                  delete
                </button>
              </WhenEditable>
            </li>
          );
        })}
      </ol>
    </div>
  );
}
