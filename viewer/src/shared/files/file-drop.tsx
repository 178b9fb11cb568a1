/** A file that is dropped or chosen. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface Props {
  /** What is asked for: "Drop a … here, or choose one:". */
  readonly words: string;
  readonly accept: string;
  readonly take: (file: File) => void;
  readonly children?: ComponentChildren;
}

export function FileDrop({ words, accept, take, children }: Props) {
  const [over, setOver] = useState(false);
  const taken = (file: File | undefined) => file && take(file);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: dropping is by pointer alone; the field inside takes files by keyboard
    <div
      class={`file-drop ${over ? 'over' : ''}`}
      onDragOver={(e) => {
        e.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(e) => {
        e.preventDefault();
        setOver(false);
        taken(e.dataTransfer?.files[0]);
      }}
    >
      <label>
        <span>{words}</span>
        <input
          type="file"
          accept={accept}
          onChange={(e) => {
            taken(e.currentTarget.files?.[0]);
            e.currentTarget.value = '';
          }}
        />
      </label>
      {children}
    </div>
  );
}
