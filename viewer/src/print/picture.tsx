/** The boat as a still picture; nothing stands there where it cannot be had. */
import { useState } from 'preact/hooks';
import { useBoat, useRoute } from '../session/context.tsx';
import { isPictureInFile, pictureOf } from '../session/picture.ts';
import { plainWords } from '../shared/words/plain-words.ts';
import { isThere } from './picture-ahead.ts';

/** The address of the picture of what is shown. */
export function usePictureSource(): string {
  const { working, condition } = useBoat();
  const { option, revision } = useRoute().route;
  const edit = revision === undefined ? working.edit : undefined;
  return pictureOf(working.refit, { condition, option, revision }, edit);
}

export function SheetPicture() {
  const { working, condition } = useBoat();
  const { reference_condition: reference, boat } = working.assessment;
  const source = usePictureSource();
  const [shown, setShown] = useState(() => (isThere(source) ? source : ''));
  const pictured = isPictureInFile() ? reference : condition;
  return (
    <figure hidden={shown !== source}>
      <img src={source} alt={`${boat} from her port bow`} onLoad={() => setShown(source)} />
      <figcaption>afloat in: {plainWords(pictured)}</figcaption>
    </figure>
  );
}
