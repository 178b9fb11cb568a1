/** What is done with the 3D view: from where, seen through, settling, cut, measured, a picture. */
import type { BoatView } from '../../scene/view.ts';
import { LookFrom } from './look-from.tsx';
import { PictureTool } from './picture.tsx';
import { SectionTool } from './section.tsx';
import type { Ref } from './use-boat-view.ts';
import type { useSettling, useXray } from './waters.ts';

interface Props {
  readonly view: Ref<BoatView>;
  /** Whether the browser draws nothing in three dimensions. */
  readonly isLost: boolean;
  readonly xray: ReturnType<typeof useXray>;
  readonly settling: ReturnType<typeof useSettling>;
  readonly tape: { readonly isOpen: boolean; readonly turn: () => void };
}

export function Tools({ view, isLost, xray: [xray, turnXray], settling, tape }: Props) {
  return (
    <div class="three-tools">
      <LookFrom view={view} />
      {!isLost && (
        <>
          <button
            type="button"
            class="tool"
            aria-pressed={xray}
            title="See through her to the weights inside, and drag them"
            onClick={turnXray}
          >
            x-ray
          </button>
          {settling.may && <Settle settling={settling} />}
          <SectionTool view={view} />
          <button type="button" class="tool" aria-pressed={tape.isOpen} onClick={tape.turn}>
            distance
          </button>
          <PictureTool view={view} maySettle={settling.may} />
        </>
      )}
    </div>
  );
}

/** From as found to now: as it is, and ten times as much, which stays until pressed again. */
function Settle({ settling: { times, settle, hold } }: Pick<Props, 'settling'>) {
  return (
    <fieldset class="segments">
      <legend class="unseen">From as found to now</legend>
      <button
        type="button"
        aria-pressed={times === 1}
        title="See her settle from as found to now"
        onClick={() => settle(1)}
      >
        settle
      </button>
      <button
        type="button"
        aria-pressed={times === 10}
        title="Shows the change from as found ten times as large; press again to see her as she floats"
        onClick={() => (times === 10 ? hold() : settle(10))}
      >
        10 times
      </button>
    </fieldset>
  );
}
