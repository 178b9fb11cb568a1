/** The Float page: the boat in the water, what each change does, and the part that is picked. */

import { useMemo, useRef } from 'preact/hooks';
import { useBoat, useKnown, useRoute, useSnapshot } from '../session/context.tsx';
import { hashOf } from '../session/route.ts';
import { holding, isHeld } from '../session/working-copy/gesture.ts';
import { bothBoats } from '../shared/answer/figures.ts';
import { comparedIn } from '../shared/answer/floats.ts';
import { type Frame, frameOf, lowered, scaleOf } from '../shared/boat/side-view.ts';
import { useSize } from '../shared/feedback/use-size.ts';
import { Panel } from '../shared/panel/panel.tsx';
import { crownsOf } from '../shared/profile/person.tsx';
import { PersonPanel } from '../shared/profile/person-panel.tsx';
import { ProfileDrawing } from '../shared/profile/profile.tsx';
import { BESIDE } from '../shared/style/breakpoints.ts';
import { View3D } from '../shared/view3d/view3d.tsx';
import { reworded } from '../shared/words/sentences.ts';
import { Beam } from './beam.tsx';
import { Cards } from './cards.tsx';

/** Where the sea comes in first in the condition that is looked at. */
function Afloat() {
  const { working, condition } = useBoat();
  const { full } = useSnapshot();
  const { before, after } = bothBoats(comparedIn((full ?? working).assessment), condition);
  const floods = (after ?? before)?.flooding_sentence;
  return floods ? <p class="beam-sum">{reworded(floods)}</p> : null;
}

/** Leads to the owner's photograph, where a server answers. */
function ToPhotograph() {
  const { route } = useRoute();
  const { inFile } = useKnown();
  if (inFile) return null;
  return (
    <p class="to-photograph">
      <a href={hashOf({ ...route, page: 'photograph' })}>See the refit in your own photograph</a>
    </p>
  );
}

/** Of the window's height what the picture takes, and what the beam takes [px]. */
const PICTURE = 0.45;
const BEAM_PX = 167;
/** The profile is not drawn lower than this [px], nor by more than this share. */
const LOWEST_PX = 156;
const LOWEST = 0.56;

/**
 * The frame for profile, beam and picture: with the profile as low as all three need to be in
 * sight together, where the middle of the page has a height of its own. None moves under a hand.
 */
function useLowered(frame: Frame, width: number, middle: number): Frame {
  const isBeside = matchMedia(BESIDE).matches;
  const { height } = scaleOf(frame, width);
  const room = middle - PICTURE * innerHeight - BEAM_PX;
  const most = useRef(Infinity);
  if (!isHeld()) most.current = isBeside ? Math.max(room, LOWEST_PX, LOWEST * height) : Infinity;
  return useMemo(() => lowered(frame, width, most.current), [frame, width, most.current]);
}

export function FloatPage() {
  const { working } = useBoat();
  const { items, person } = working.assessment;
  const lastFrame = useRef<Frame>(undefined);
  const frame = useMemo(() => {
    const places = items.flatMap((i) => [i.at_m[0], i.to_m?.[0] ?? i.at_m[0]]);
    const heights = crownsOf(person);
    return frameOf(working.profile, places, { before: lastFrame.current, ...holding(), heights });
  }, [working]);
  lastFrame.current = frame;
  const [sheet, width] = useSize<HTMLDivElement>(820);
  const [middle, , height] = useSize<HTMLDivElement>(820);
  const drawn = useLowered(frame, width, height);
  // on a narrow page the profile and the beam scroll as one
  const together = (e: Event & { currentTarget: HTMLElement }) => {
    for (const one of middle.current?.querySelectorAll('.sheet') ?? [])
      one.scrollLeft = e.currentTarget.scrollLeft;
  };
  return (
    <div class="float">
      <Cards />
      <div class="middle" ref={middle}>
        <View3D frame={drawn} />
        <div class="sheet" onScroll={together}>
          <div class="sheet-inside" ref={sheet}>
            <ProfileDrawing frame={drawn} width={width} />
          </div>
        </div>
        <div class="sheet" onScroll={together}>
          <div class="sheet-inside">
            <Beam frame={drawn} width={width} />
          </div>
        </div>
        <Afloat />
        <PersonPanel />
        <ToPhotograph />
      </div>
      <Panel />
    </div>
  );
}
