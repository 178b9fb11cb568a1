/** A photograph with its marks, and beside it which places are marked and how well they agree. */
import { useRef, useState } from 'preact/hooks';
import { useBoat, useEditing, useSnapshot } from '../session/context.tsx';
import { Gesture } from '../session/working-copy/gesture.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { ScrollBox } from '../shared/feedback/scroll-box.tsx';
import { Seconds } from '../shared/feedback/seconds.tsx';
import { plainWords } from '../shared/words/plain-words.ts';
import { BeforeAfter } from './before-after.tsx';
import { MarkList } from './mark-list.tsx';
import { MarkedPicture } from './marked-picture.tsx';
import {
  type Marked,
  type MarkedPlace,
  PHOTOGRAPHS,
  photographsIn,
  type SetMark,
  type SetPlace,
} from './marks.ts';
import { useCamera, usePlaces } from './use-camera.ts';

interface Props {
  readonly picture: HTMLImageElement;
  /** Name of its file, which the document knows it by. */
  readonly file: string;
  /** Key in the document, of one that is not marked yet too. */
  readonly name: string;
}

export function Marking({ picture, file, name }: Props) {
  const { readOnly } = useEditing();
  const [enlarged, setEnlarged] = useState(false);
  const [own, setOwn] = useState<readonly MarkedPlace[]>([]);
  const [next, setNext] = useState('');
  const offered = usePlaces(readOnly);
  const marked = useMarked(file);
  const camera = useCamera(marked?.key);
  const set = useSetMark({ picture, file, name, marked });
  const { seen, wrong, busy } = camera;
  const marks = marked?.marks ?? [];
  const places: readonly MarkedPlace[] = [...offered, ...own];
  const nameOf = (id: string) =>
    places.find((p) => p.id === id)?.name ??
    (marks.find((m) => m.id === id)?.place_m && plainWords(id)) ??
    seen?.marks.find((m) => m.id === id)?.name ??
    plainWords(id);
  const free = places.filter((p) => !marks.some((m) => m.id === p.id));
  const asked = readOnly ? undefined : (free.find((p) => p.id === next) ?? free[0]);
  const add = (place: MarkedPlace) => {
    setOwn([...own, place]);
    setNext(place.id);
  };
  return (
    <div class="marking">
      <MarkList {...{ seen, marks, offered, free, asked, setNext, set, add, nameOf }} />
      <div class="marked-picture">
        <label>
          <input
            type="checkbox"
            checked={enlarged}
            onChange={(e) => setEnlarged(e.currentTarget.checked)}
          />{' '}
          Enlarge, to {readOnly ? 'see' : 'set'} marks exactly
        </label>
        <ScrollBox label="The photograph with its marks">
          <MarkedPicture {...{ picture, enlarged, marks, asked, set, nameOf, readOnly }} />
        </ScrollBox>
      </div>
      {busy && (
        <p role="status">
          Finding the camera and drawing the refit…
          <Seconds />
        </p>
      )}
      <RefusalMessage words={wrong} />
      {seen && <BeforeAfter picture={picture} seen={seen} name={file} />}
    </div>
  );
}

/** What the document says of a picture, with what is being set. */
function useMarked(file: string): Marked | undefined {
  const { document } = useBoat();
  const { drafts } = useSnapshot();
  return photographsIn(document, drafts).find((one) => one.file === file);
}

interface Setting extends Props {
  readonly marked: Marked | undefined;
}

/** Sets a mark in the document, or deletes it; the first brings the photograph with it. */
function useSetMark({ picture, file, name, marked }: Setting): SetPlace {
  const { session } = useEditing();
  const gesture = useRef({ of: '', is: new Gesture() });
  const path = `${PHOTOGRAPHS}.${marked?.key ?? name}`;
  const { naturalWidth: width_px, naturalHeight: height_px } = picture;
  /** Moves of one mark are one step of undo. */
  const gestureOf = (id: string) => {
    if (gesture.current.of !== id) gesture.current = { of: id, is: new Gesture() };
    return gesture.current.is.now();
  };
  const put = (id: string, mark: Omit<SetMark, 'id'>, label: string) =>
    marked
      ? session.set(`${path}.marks.${id}`, mark, label, gestureOf(id))
      : session.set(path, { file, width_px, height_px, marks: { [id]: mark } }, label);
  return ({ id, name: words, place_m: place }, at) => {
    if (at === undefined) return session.remove(`${path}.marks.${id}`, `the mark ${words}`);
    const before = marked?.marks.find((m) => m.id === id);
    const own = before?.place_m ?? place;
    const label = `${before ? 'moved' : 'new'} mark ${words}`;
    return put(id, { at_percent: at, ...(own && { place_m: own }) }, label);
  };
}
