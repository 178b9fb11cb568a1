/** The photograph as it is and with the refit in it, under one divider, and saved as a picture. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { PhotographResult } from '../contract.ts';
import { composed, overlayOf } from './painting.ts';

interface Props {
  readonly picture: HTMLImageElement;
  readonly seen: PhotographResult;
  readonly name: string;
}

export function BeforeAfter({ picture, seen, name }: Props) {
  const [percent, setPercent] = useState(50);
  const canvas = useRef<HTMLCanvasElement>(null);
  const { naturalWidth: width, naturalHeight: height } = picture;
  const overlay = useMemo(() => overlayOf(seen, width, height), [seen, width, height]);
  useEffect(() => {
    const pen = canvas.current?.getContext('2d');
    pen?.drawImage(composed(picture, overlay, percent / 100), 0, 0);
  }, [picture, overlay, percent]);
  return (
    <div class="before-after">
      <div class="divided">
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
      <button type="button" onClick={() => save(composed(picture, overlay, percent / 100), name)}>
        Save as PNG
      </button>
    </div>
  );
}

function save(canvas: HTMLCanvasElement, name: string): void {
  canvas.toBlob((blob) => {
    if (!blob) return;
    const link = document.createElement('a');
    link.href = URL.createObjectURL(blob);
    link.download = `${name.replace(/\.\w+$/, '')}-refit.png`;
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 0);
  }, 'image/png');
}
