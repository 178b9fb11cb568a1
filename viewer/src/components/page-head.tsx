/** The head of a page that is not the drawing itself: what it is about, and the boat afloat. */
import type { ComponentChildren } from 'preact';
import { useMemo } from 'preact/hooks';
import { useApp } from '../app-context.ts';
import { frameOf } from '../profile.ts';
import { ProfileDrawing } from './profile.tsx';
import { useWidth } from './use-width.ts';

export function PageHead({ title, children }: { title: string; children?: ComponentChildren }) {
  const { working } = useApp();
  const frame = useMemo(() => frameOf(working.profile), [working]);
  const [sheet, width] = useWidth<HTMLDivElement>(560);
  return (
    <header class="page-head">
      <div>
        <h2>{title}</h2>
        {children}
      </div>
      <div class="page-profile" ref={sheet}>
        <ProfileDrawing frame={frame} width={width} />
      </div>
    </header>
  );
}
