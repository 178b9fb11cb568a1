/** A photograph with its marks, and beside it which places are marked and how well they agree. */
import { useState } from 'preact/hooks';
import type { PhotographPlace } from '../contract.ts';
import { useReview } from '../session/context.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { quantity } from '../shared/words/numbers.ts';
import { count } from '../shared/words/plain-words.ts';
import { BeforeAfter } from './before-after.tsx';
import { FEWEST, keepMarks, keptMarks, markMoved, type SetMark, withMark } from './marks.ts';
import { type CameraAnswer, useCamera } from './use-camera.ts';

interface Props {
  readonly picture: HTMLImageElement;
  readonly name: string;
  readonly id: string;
}

export function Marking({ picture, name, id }: Props) {
  const { refit } = useReview().reviewStore;
  const [marks, setMarks] = useState(() => keptMarks(refit, id));
  const [next, setNext] = useState('');
  const [enlarged, setEnlarged] = useState(false);
  const camera = useCamera(marks, picture);
  const { places, seen, wrong } = camera;
  const free = places.filter((p) => !marks.some((m) => m.id === p.id));
  const marked = free.find((p) => p.id === next) ?? free[0];
  const set = (of: string, at: readonly [number, number] | undefined) => {
    const now = withMark(marks, of, at);
    setMarks(now);
    keepMarks(refit, id, now);
  };
  return (
    <div class="marking">
      <MarkList {...{ camera, marks, free, marked, setNext, set }} />
      <div class="marked-picture">
        <label>
          <input
            type="checkbox"
            checked={enlarged}
            onChange={(e) => setEnlarged(e.currentTarget.checked)}
          />{' '}
          Enlarge, to set marks exactly
        </label>
        <div class="scrolled">
          <MarkedPicture {...{ picture, enlarged, marks, places, set }} marked={marked?.id} />
        </div>
      </div>
      {wrong !== '' && <RefusalMessage words={wrong} />}
      {seen && <BeforeAfter picture={picture} seen={seen} name={name} />}
    </div>
  );
}

type SetPlace = (id: string, at: readonly [number, number] | undefined) => void;

interface ListProps {
  readonly camera: CameraAnswer;
  readonly marks: readonly SetMark[];
  readonly free: readonly PhotographPlace[];
  readonly marked: PhotographPlace | undefined;
  readonly setNext: (id: string) => void;
  readonly set: SetPlace;
}

function MarkList({ camera: { places, seen }, marks, free, marked, setNext, set }: ListProps) {
  const missing = FEWEST - marks.length;
  return (
    <div class="mark-list">
      {marked && (
        <label>
          Place to mark next: press it in the photograph{' '}
          <select value={marked.id} onChange={(e) => setNext(e.currentTarget.value)}>
            {free.map((p) => (
              <option key={p.id} value={p.id}>
                {p.name}
              </option>
            ))}
          </select>
        </label>
      )}
      {missing > 0 && (
        <p>{count(missing, 'more mark')} needed, on both sides and at different heights.</p>
      )}
      {seen && (
        <p>
          The marks agree to {seen.off_px.toFixed(1)} px, {quantity(seen.off_mm, 'mm', 1)} at the
          boat; the camera stood {quantity(seen.away_m, 'm', 0.1)} off.
        </p>
      )}
      <ol>
        {marks.map((m) => {
          const off = seen?.marks.find((one) => one.id === m.id);
          const name = places.find((p) => p.id === m.id)?.name ?? m.id;
          return (
            <li key={m.id}>
              {name}
              {off && ` · off ${off.off_px.toFixed(1)} px, ${quantity(off.off_mm, 'mm', 1)}`}{' '}
              <button
                type="button"
                aria-label={`Delete the mark ${name}`}
                onClick={() => set(m.id, undefined)}
              >
                Delete
              </button>
            </li>
          );
        })}
      </ol>
    </div>
  );
}

interface PictureProps {
  readonly picture: HTMLImageElement;
  readonly enlarged: boolean;
  readonly marks: readonly SetMark[];
  readonly places: readonly PhotographPlace[];
  readonly marked: string | undefined;
  readonly set: SetPlace;
}

function MarkedPicture({ picture, enlarged, marks, places, marked, set }: PictureProps) {
  const { naturalWidth: width, naturalHeight: height } = picture;
  const placeOf = (e: MouseEvent & { currentTarget: HTMLElement }) => {
    const box = e.currentTarget.getBoundingClientRect();
    const across = (e.clientX - box.left) / box.width;
    return [across * width, ((e.clientY - box.top) / box.height) * height] as const;
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions lint/a11y/useKeyWithClickEvents: a place in a picture is pressed; marks are moved by keys, and begin in the middle by the button
    <div
      class="picture"
      style={enlarged ? { width: `${width}px` } : {}}
      onClick={(e) => marked !== undefined && set(marked, placeOf(e))}
    >
      <img src={picture.src} alt="The boat as photographed" draggable={false} />
      {marks.map((m, i) => (
        <button
          key={m.id}
          type="button"
          class="mark"
          aria-label={`${places.find((p) => p.id === m.id)?.name ?? m.id}: moved by arrow keys`}
          style={{ left: `${(m.at_px[0] / width) * 100}%`, top: `${(m.at_px[1] / height) * 100}%` }}
          onClick={(e) => e.stopPropagation()}
          onKeyDown={(e) => {
            const at = markMoved(m.at_px, e.key, e.shiftKey);
            if (!at) return;
            e.preventDefault();
            set(m.id, at);
          }}
        >
          {i + 1}
        </button>
      ))}
      {marked !== undefined && (
        <button
          type="button"
          class="by-keys"
          onClick={(e) => {
            e.stopPropagation();
            set(marked, [width / 2, height / 2]);
          }}
        >
          Mark in the middle
        </button>
      )}
    </div>
  );
}
