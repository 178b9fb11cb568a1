/** The head of a page that is not the drawing itself: what it is about, and the boat afloat. */
import type { ComponentChildren } from 'preact';
import { useMemo, useRef } from 'preact/hooks';
import { useBoat } from '../../session/context.tsx';
import { isHeld } from '../../session/working-copy/gesture.ts';
import type { DrawnRoom } from '../boat/rooms.ts';
import { type Frame, frameOf } from '../boat/side-view.ts';
import { useWidth } from '../feedback/use-width.ts';
import { crownsOf } from './person.tsx';
import { ProfileDrawing } from './profile.tsx';

export function PageHead({ title, children }: { title: string; children?: ComponentChildren }) {
  return (
    <header class="page-head">
      <div>
        <h2>{title}</h2>
        {children}
      </div>
      <PageProfile />
    </header>
  );
}

/** The boat afloat, from the side, and what lies within her. */
export function PageProfile({ rooms = [] }: { rooms?: readonly DrawnRoom[] }) {
  const { working } = useBoat();
  const lastFrame = useRef<Frame>(undefined);
  const frame = useMemo(
    () =>
      frameOf(working.profile, [], {
        before: lastFrame.current,
        held: isHeld(),
        heights: crownsOf(working.assessment.person),
      }),
    [working],
  );
  lastFrame.current = frame;
  const [sheet, width] = useWidth<HTMLDivElement>(560);
  return (
    <div class="page-profile" ref={sheet}>
      <ProfileDrawing frame={frame} width={width} rooms={rooms} />
    </div>
  );
}
