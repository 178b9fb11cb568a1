/** The boat as a still picture; nothing stands there where it cannot be had. */
import { useState } from 'preact/hooks';
import { useBoat, useRoute } from '../session/context.tsx';
import { isPictureInFile, pictureOf } from '../session/picture.ts';
import { plainWords } from '../shared/words/plain-words.ts';

export function SheetPicture() {
  const { working, condition } = useBoat();
  const { option, revision } = useRoute().route;
  const [shown, setShown] = useState('');
  const { reference_condition: reference, boat } = working.assessment;
  const edit = revision === undefined ? working.edit : undefined;
  const source = pictureOf(working.refit, { condition, option, revision }, edit);
  const pictured = isPictureInFile() ? reference : condition;
  return (
    <figure hidden={shown !== source}>
      <img src={source} alt={`${boat} from her port bow`} onLoad={() => setShown(source)} />
      <figcaption>afloat in: {plainWords(pictured)}</figcaption>
    </figure>
  );
}
