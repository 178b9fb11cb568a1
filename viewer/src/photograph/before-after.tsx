/** The photograph as it is and with the refit in it, under one divider, and saved as a picture. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { PhotographResult } from '../contract.ts';
import { useSize } from '../shared/feedback/use-size.ts';
import { kilograms } from '../shared/words/numbers.ts';
import { lastKey, plainWords } from '../shared/words/plain-words.ts';
import { compose, letterOf, overlayOf } from './painting.ts';

interface Props {
  readonly picture: HTMLImageElement;
  readonly seen: PhotographResult;
  readonly name: string;
}

/** Height of the letters on the page [px], and share of the picture's width in what is saved. */
const LETTER_PX = 14;
const LETTER_SHARE = 1 / 70;

export function BeforeAfter({ picture, seen, name }: Props) {
  const [percent, setPercent] = useState(50);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [box, shown] = useSize<HTMLDivElement>(800);
  const { naturalWidth: width, naturalHeight: height } = picture;
  const letter = (LETTER_PX * width) / shown;
  const overlay = useMemo(
    () => overlayOf(seen, { width, height, letter }),
    [seen, picture, letter],
  );
  useEffect(() => {
    if (canvas.current) compose(canvas.current, picture, overlay, percent / 100);
  }, [picture, overlay, percent]);
  const save = () => {
    const whole = overlayOf(seen, { width, height, letter: width * LETTER_SHARE });
    const made = document.createElement('canvas');
    Object.assign(made, { width, height });
    compose(made, picture, whole, percent / 100);
    download(made, name);
  };
  return (
    <div class="before-after">
      <div class="divided" ref={box}>
        <canvas
          ref={canvas}
          width={width}
          height={height}
          role="img"
          aria-label={`Left of the divider the boat as photographed, right of it with the refit. Divider at ${percent} %.`}
        />
        <span class="divider" style={{ left: `${percent}%` }} />
      </div>
      <label>
        Divider: as photographed to its left, refit to its right{' '}
        <input
          type="range"
          min={0}
          max={100}
          step={1}
          value={percent}
          onInput={(e) => setPercent(e.currentTarget.valueAsNumber)}
        />
      </label>
      <p class="waterlines-drawn">
        White line: waterline of the refit. Yellow dashes: waterline as found. What the refit takes
        away is still in the photograph where nothing new covers it.
      </p>
      <Weights weights={seen.weights} />
      <button type="button" onClick={save}>
        Save as PNG
      </button>
    </div>
  );
}

/** New weights that are known by their centre alone. */
function Weights({ weights }: Pick<PhotographResult, 'weights'>) {
  if (weights.length === 0) return null;
  return (
    <div class="weights-seen">
      <p>
        Rings: centres of gravity of new weights on deck. Their shapes are not entered, so nothing
        else of them can be drawn.
      </p>
      <ul>
        {weights.map((one, i) => (
          <li key={one.id}>
            <b>{letterOf(i)}</b> {plainWords(lastKey(one.id))}, {kilograms(one.mass_kg)}
          </li>
        ))}
      </ul>
    </div>
  );
}

function download(canvas: HTMLCanvasElement, name: string): void {
  canvas.toBlob((blob) => {
    if (!blob) return;
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${name.replace(/\.\w+$/, '')}-refit.png`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 0);
  }, 'image/png');
}
