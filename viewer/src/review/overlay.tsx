/** Old and new in three dimensions: what differs is edged, its old shape a dashed outline. */
import { useEffect, useState } from 'preact/hooks';
import { useViewing } from '../session/context.tsx';
import { CanvasKeys } from '../shared/view3d/canvas-keys.tsx';
import { useBoatView } from '../shared/view3d/use-boat-view.ts';
import { lastKey, plainWords } from '../shared/words/plain-words.ts';
import type { overlaid } from './compared.ts';

export function Overlay({ over }: { over: ReturnType<typeof overlaid> }) {
  const { meshes } = useViewing();
  const [hovered, setHovered] = useState<string>();
  meshes.expect(over.pieces);
  const { canvas, view, lost } = useBoatView(
    over.pieces,
    'plain',
    { hovered: setHovered },
    over.differing,
  );
  useEffect(() => view.current?.through(true), []); // what differs inside the hull is seen too
  const names = [...over.differing].map((id) => plainWords(lastKey(id)));
  const gone = over.outlined.filter((id) => !over.differing.has(id));
  return (
    <div class="overlay">
      {lost ? (
        <p class="lost">This browser cannot draw in three dimensions here.</p>
      ) : (
        <CanvasKeys canvas={canvas} view={view} />
      )}
      <p class="about">
        {names.length > 0 && `Edged: ${names.join(', ')}, as it is now. `}
        Dashed: as it was{gone.length > 0 && `, and gone: ${gone.map(plainWords).join(', ')}`}.
        {hovered && <b> {plainWords(hovered)}</b>}
      </p>
    </div>
  );
}
