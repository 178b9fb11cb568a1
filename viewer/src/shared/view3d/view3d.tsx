/** The boat in three dimensions, in the middle of the Float page. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Spot } from '../../scene/aim.ts';
import type { Rung } from '../../scene/view.ts';
import { useBoat, useCommenting, useViewing } from '../../session/context.tsx';
import { pinOn, pinWords } from '../../session/review.ts';
import type { Frame } from '../boat/side-view.ts';
import { CommentOn } from '../comments/composer.tsx';
import { Axes, turnAxes } from './axes.tsx';
import { CanvasKeys } from './canvas-keys.tsx';
import { captionOf, plateWords } from './caption.ts';
import { BoatHandles } from './handles.tsx';
import { Legend } from './legend.tsx';
import { Pins } from './pins.tsx';
import { TapeLine, TapeReading, useTape } from './tape.tsx';
import { Tools } from './tools.tsx';
import { useBoatView } from './use-boat-view.ts';
import { useSettling, useWaters, useXray } from './waters.ts';

export function View3D({ frame }: { frame: Frame }) {
  const { working } = useBoat();
  const { mode } = useViewing();
  const { commenting } = useCommenting();
  const [hovered, setHovered] = useState<string>();
  const [spot, setSpot] = useState<Spot>();
  const [rung, setRung] = useState<Rung>('full');
  const eachFrame = useRef<() => void>(null);
  const lineFrame = useRef<() => void>(null);
  const axes = useRef<SVGSVGElement>(null);
  const gripFrame = useRef<() => void>(null);
  const tape = useTape();
  useEffect(() => {
    if (!commenting) setSpot(undefined);
  }, [commenting]);
  const { canvas, view, lost, missing, again } = useBoatView(working.scene, mode, {
    hovered: setHovered,
    spotted: tape.open ? tape.press : setSpot,
    drawn: () => {
      eachFrame.current?.();
      lineFrame.current?.();
      turnAxes(axes.current, view.current);
      if (view.current) setRung(view.current.rung);
      gripFrame.current?.();
    },
    picksNothing: tape.open,
  });
  const turnTape = () => {
    setSpot(undefined);
    tape.turn();
  };
  useWaters(view, frame);
  const xray = useXray(view);
  const settling = useSettling(view);
  return (
    <section class="three" aria-label="The boat in three dimensions">
      <Tools
        view={view}
        isLost={lost}
        xray={xray}
        settling={settling}
        tape={{ isOpen: tape.open, turn: turnTape }}
      />
      {lost ? (
        <p class="lost">
          This browser cannot draw in three dimensions here. Everything else works.
        </p>
      ) : (
        <div class="with-pins">
          <CanvasKeys canvas={canvas} view={view} />
          <Axes at={axes} />
          <Pins view={view} drawn={eachFrame} />
          <BoatHandles view={view} drawn={gripFrame} isHidden={tape.open} isThrough={xray[0]} />
          {tape.open && <TapeLine tape={tape} view={view} drawn={lineFrame} />}
          {settling.times === 10 && (
            <p class="drawn-times">Change from as found, drawn 10 times. Painted as found.</p>
          )}
        </div>
      )}
      {missing && <Missing why={missing} again={again} />}
      {tape.open && <TapeReading tape={tape} />}
      {spot && <SpotWords spot={spot} />}
      <p class="hovered">
        {hovered ? captionOf({ working }, mode, hovered) : <WaterKey rung={rung} />}
      </p>
      <Legend />
    </section>
  );
}

const Missing = ({ why, again }: { why: string; again: () => void }) => (
  <p class="refused" role="alert">
    Some of her is not drawn. {why}{' '}
    <button type="button" class="quiet" onClick={again}>
      Draw again
    </button>
  </p>
);

function SpotWords({ spot }: { spot: Spot }) {
  const { working } = useBoat();
  const plate = plateWords(working.assessment.parts, spot);
  return (
    <p class="spot">
      {pinWords(pinOn(spot))}
      {plate && (
        <>
          : <b>{plate}</b>
        </>
      )}{' '}
      <CommentOn on={pinOn(spot)} words="Comment here" />
    </p>
  );
}

/** What is left out where no graphics processor draws, or a slow one. */
const LEFT_OUT: Readonly<Record<Rung, string>> = {
  full: '',
  software: 'no graphics processor: drawn plainly while the view moves',
  plain: 'drawn without shadows: this computer draws slowly',
};

/** The boat is held still; the water is drawn where it lies on her. */
const WaterKey = ({ rung }: { rung: Rung }) => (
  <>
    <span class="water-key">
      <svg viewBox="0 0 24 6" aria-hidden="true">
        <path d="M0,3H24" />
      </svg>{' '}
      water now{' '}
      <svg viewBox="0 0 24 6" aria-hidden="true">
        <path d="M0,3H24" stroke-dasharray="5 3" />
      </svg>{' '}
      as found
    </span>
    {LEFT_OUT[rung] && <small class="left-out">{LEFT_OUT[rung]}</small>}
  </>
);
