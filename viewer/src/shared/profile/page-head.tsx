/** The head of a page that is not the drawing itself: what it is about, and the boat afloat. */
import type { ComponentChildren } from 'preact';
import { useMemo, useRef } from 'preact/hooks';
import { useBoat } from '../../session/context.tsx';
import { holding } from '../../session/working-copy/gesture.ts';
import type { DrawnRoom } from '../boat/rooms.ts';
import { type Frame, frameOf } from '../boat/side-view.ts';
import { useSize } from '../feedback/use-size.ts';
import { crownsOf } from './person.tsx';
import { type Grasped, ProfileDrawing } from './profile.tsx';

/** Draws something over the boat, to her scale. */
type Over = (frame: Frame, width: number) => ComponentChildren;

interface HeadProps {
  readonly title: string;
  readonly over?: Over;
  /** What stands below her picture. */
  readonly under?: ComponentChildren;
  readonly children?: ComponentChildren;
}

export function PageHead({ title, over, under, children }: HeadProps) {
  return (
    <header class="page-head">
      <div>
        <h2>{title}</h2>
        {children}
      </div>
      <div class="page-head-side">
        <PageProfile {...(over ? { over } : {})} />
        {under}
      </div>
    </header>
  );
}

interface PageProfileProps {
  readonly rooms?: readonly DrawnRoom[];
  readonly over?: Over;
  readonly grasped?: Grasped;
}

/** The boat afloat, from the side, and what lies within her. */
export function PageProfile({ rooms = [], over, grasped = 'nothing' }: PageProfileProps) {
  const { working } = useBoat();
  const lastFrame = useRef<Frame>(undefined);
  const frame = useMemo(
    () =>
      frameOf(working.profile, [], {
        before: lastFrame.current,
        ...holding(),
        heights: crownsOf(working.assessment.person),
      }),
    [working],
  );
  lastFrame.current = frame;
  const [sheet, width] = useSize<HTMLDivElement>(560);
  return (
    <div class="page-profile" ref={sheet}>
      <ProfileDrawing frame={frame} width={width} rooms={rooms} grasped={grasped} />
      {over?.(frame, width)}
    </div>
  );
}
