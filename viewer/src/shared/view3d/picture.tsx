/** The view as a picture at print size, as pixels or as lines and faces; a clip of her settling. */
import { useState } from 'preact/hooks';
import type { BoatView } from '../../scene/view.ts';
import { useBoat, useReview, useRoute } from '../../session/context.tsx';
import { bothBoats } from '../answer/figures.ts';
import { comparedIn } from '../answer/floats.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { UnderWay } from '../feedback/under-way.tsx';
import { useAction } from '../feedback/use-action.ts';
import { download } from '../files/download.ts';
import { choiceOf } from '../words/choice.ts';
import { trimWords } from '../words/numbers.ts';
import { optionWords, plainWords } from '../words/plain-words.ts';
import { endingOf, recordedClip } from './clip.ts';
import { paletteOf, type Ref } from './use-boat-view.ts';

/** Over a page 300 mm wide a tenth of a millimetre each. */
const PNG_PX = 3600;
const SVG_PX = 1600;
const WHITE = '#ffffff';
const PAPERS = ['white', 'none'] as const;
type Paper = (typeof PAPERS)[number];

type PictureKind = 'png' | 'svg';
type PictureOrder = Omit<Parameters<BoatView['png']>[0], 'width'>;

/** Draws the view and hands it over as a file. */
const PICTURES: Readonly<
  Record<PictureKind, (view: BoatView, order: PictureOrder, name: string) => Promise<void>>
> = {
  png: async (view, order, name) =>
    download(`${name}.png`, 'image/png', await view.png({ ...order, width: PNG_PX })),
  svg: async (view, order, name) =>
    download(`${name}.svg`, 'image/svg+xml', await view.svg({ ...order, width: SVG_PX })),
};

interface StillProps {
  readonly view: Ref<BoatView>;
  /** Whether she has a water as found to settle from. */
  readonly maySettle: boolean;
}

export function PictureTool({ view, maySettle }: StillProps) {
  const [isOpen, setOpen] = useState(false);
  const [paper, setPaper] = useState<Paper>('white');
  const [doing, setDoing] = useState('');
  const { busy, wrong, run, stop } = useAction();
  const { caption, name } = usePictureWords();
  const save = (kind: PictureKind) => {
    setDoing('Drawing…');
    void run(async (signal) => {
      if (!view.current) return;
      const light = paletteOf(false);
      const onWhite = paper === 'white' ? { paper: WHITE, palette: light } : {};
      await PICTURES[kind](view.current, { caption, signal, ...onWhite }, name);
    });
  };
  const record = () => {
    setDoing('Recording…');
    void run(() => saveClip(view.current, name));
  };
  return (
    <>
      <button type="button" class="tool" aria-expanded={isOpen} onClick={() => setOpen(!isOpen)}>
        picture
      </button>
      {isOpen && (
        <section class="still-order" aria-label="Picture of this view">
          <label>
            paper{' '}
            <select
              value={paper}
              onChange={(e) => setPaper(choiceOf(PAPERS, e.currentTarget.value) ?? paper)}
            >
              <option value="white">white</option>
              <option value="none">transparent</option>
            </select>
          </label>
          <button type="button" disabled={busy} onClick={() => save('png')}>
            Save PNG
          </button>
          <button type="button" disabled={busy} onClick={() => save('svg')}>
            Save SVG
          </button>
          {maySettle && (
            <button type="button" disabled={busy} onClick={record}>
              Save clip
            </button>
          )}
          {busy ? (
            <UnderWay words={doing} stop={stop} />
          ) : (
            <small>
              PNG 3,600 px wide; SVG as lines and faces
              {maySettle && '; clip of her settling from as found to now'}. Caption: {caption}
            </small>
          )}
          <RefusalMessage words={wrong} />
        </section>
      )}
    </>
  );
}

/** Records her settling from as found to now. */
async function saveClip(view: BoatView | null, name: string): Promise<void> {
  if (!view) return;
  if (matchMedia('(prefers-reduced-motion: reduce)').matches)
    throw new Error('Motion is reduced on this computer, so she settles at once: no clip.');
  const clip = await recordedClip(view.canvas, () => new Promise((done) => view.settle(1, done)));
  download(`${name}-settling.${endingOf(clip.type)}`, clip.type, clip);
}

/** What stands below the picture, and what its file is called. */
function usePictureWords() {
  const { working, condition } = useBoat();
  const { route } = useRoute();
  const { standing, signable } = useReview();
  const { before, after } = bothBoats(comparedIn(working.assessment), condition);
  const now = after ?? before;
  const { boat } = working.assessment;
  const which =
    signable?.words ?? (route.revision === undefined ? '' : `revision ${route.revision}`);
  const words = [
    boat,
    ...(route.option ? [optionWords(route.option)] : []),
    plainWords(condition),
    ...(now ? [trimWords(now.trim_mm)] : []),
    new Date().toISOString().slice(0, 10),
    [which, standing?.standing ?? 'unsigned'].filter((word) => word).join(', '),
  ];
  const name = `${boat}-${condition}`.toLowerCase().replace(/[^a-z0-9]+/g, '-');
  return { caption: words.join(' · '), name };
}
