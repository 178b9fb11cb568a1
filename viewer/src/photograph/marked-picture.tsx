/** The photograph with its marks: pressed to set one, dragged or moved by keys. */
import { useRef, useState } from 'preact/hooks';
import {
  insidePicture,
  type MarkedPlace,
  markMoved,
  type SetMark,
  type SetPlace,
} from './marks.ts';

interface Props {
  readonly picture: HTMLImageElement;
  readonly enlarged: boolean;
  readonly marks: readonly SetMark[];
  readonly asked: MarkedPlace | undefined;
  readonly set: SetPlace;
  readonly nameOf: (id: string) => string;
  readonly readOnly: boolean;
}

export function MarkedPicture(props: Props) {
  const { picture, enlarged, marks, asked, set, nameOf, readOnly } = props;
  const frame = useRef<HTMLDivElement>(null);
  const placeOf = (e: MouseEvent): readonly [number, number] => {
    const box = frame.current?.getBoundingClientRect() ?? new DOMRect(0, 0, 1, 1);
    const across = ((e.clientX - box.left) / box.width) * 100;
    return insidePicture([across, ((e.clientY - box.top) / box.height) * 100]);
  };
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions lint/a11y/useKeyWithClickEvents: a place in a picture is pressed; marks are moved by keys, and begin in the middle by the button
    <div
      ref={frame}
      class={`picture ${asked ? 'asks' : ''}`}
      style={enlarged ? { width: `${picture.naturalWidth}px` } : {}}
      onClick={(e) => asked && set(asked, placeOf(e))}
    >
      <img src={picture.src} alt="The boat as photographed" draggable={false} />
      {marks.map((mark, i) => (
        <Mark
          key={mark.id}
          {...{ mark, picture, placeOf, readOnly }}
          number={i + 1}
          name={nameOf(mark.id)}
          move={(at) => set({ id: mark.id, name: nameOf(mark.id) }, at)}
        />
      ))}
      {asked && (
        <button
          type="button"
          class="by-keys"
          onClick={(e) => {
            e.stopPropagation();
            set(asked, [50, 50]);
          }}
        >
          Mark in the middle
        </button>
      )}
    </div>
  );
}

interface MarkProps extends Pick<Props, 'picture' | 'readOnly'> {
  readonly mark: SetMark;
  readonly number: number;
  readonly name: string;
  readonly placeOf: (e: MouseEvent) => readonly [number, number];
  readonly move: (at: readonly [number, number]) => void;
}

function Mark({ mark, picture, readOnly, number, name, placeOf, move }: MarkProps) {
  /** Where it is while it is dragged. */
  const [held, hold] = useState<readonly [number, number]>();
  const [x, y] = held ?? mark.at_percent;
  const where = { left: `${x}%`, top: `${y}%` };
  if (readOnly) {
    return (
      <span class="mark" style={where} title={name}>
        <span>{number}</span>
      </span>
    );
  }
  return (
    <button
      type="button"
      class="mark"
      aria-label={`${name}: drag it, or use the arrow keys`}
      style={where}
      onClick={(e) => e.stopPropagation()}
      onPointerDown={(e) => e.currentTarget.setPointerCapture(e.pointerId)}
      onPointerMove={(e) => e.currentTarget.hasPointerCapture(e.pointerId) && hold(placeOf(e))}
      onPointerUp={() => {
        if (held) move(held);
        hold(undefined);
      }}
      onPointerCancel={() => hold(undefined)}
      onKeyDown={(e) => {
        const at = markMoved(mark.at_percent, e.key, e.shiftKey, {
          width: picture.naturalWidth,
          height: picture.naturalHeight,
        });
        if (!at) return;
        e.preventDefault();
        move(at);
      }}
    >
      <span>{number}</span>
    </button>
  );
}
