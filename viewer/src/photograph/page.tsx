/** The Photograph page: the owner's own photograph, with the refit and both waterlines laid into it. */
import { useEffect, useState } from 'preact/hooks';
import type { AttachmentCard } from '../contract.ts';
import { useReview, useRoute } from '../session/context.tsx';
import { attachmentPath } from '../session/review-api.ts';
import { hashOf } from '../session/route.ts';
import { keptName } from '../shared/comments/author.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { FileDrop } from '../shared/files/file-drop.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { Marking } from './marking.tsx';

const KINDS = ['image/jpeg', 'image/png'];

const isPhotograph = (card: AttachmentCard) =>
  KINDS.includes(card.media_type) && card.removed_at === null;

export function PhotographPage() {
  const { reviewStore, reviewState } = useReview();
  const { route } = useRoute();
  const [chosen, choose] = useState<string>();
  const { busy, wrong, run } = useAction();
  const photographs = reviewState.attachments.filter(isPhotograph);
  const card = photographs.find((one) => one.id === chosen) ?? photographs.at(-1);
  const take = (file: File) =>
    void run(async () => {
      if (!KINDS.includes(file.type)) throw new Error('Choose a JPEG or PNG picture.');
      const [id] = await reviewStore.attach([file], keptName() || 'owner');
      choose(id);
    });
  return (
    <div class="page photograph">
      <PageHead title="Photograph">
        <p>
          Mark at least six places of the boat as she was photographed. The camera is found from
          them, and the refit is drawn as that camera would see it.
        </p>
        <p>
          <a href={hashOf({ ...route, page: 'float' })}>Back to Float</a>
        </p>
        <FileDrop
          words="A photograph of the boat, JPEG or PNG, dropped here or chosen:"
          accept=".jpg,.jpeg,.png"
          take={take}
        >
          {busy && <p>Saving the photograph with the refit…</p>}
        </FileDrop>
        <RefusalMessage words={wrong} />
        {photographs.length > 1 && (
          <label>
            Photograph{' '}
            <select value={card?.id ?? ''} onChange={(e) => choose(e.currentTarget.value)}>
              {photographs.map((one) => (
                <option key={one.id} value={one.id}>
                  {one.name}
                </option>
              ))}
            </select>
          </label>
        )}
      </PageHead>
      {card && <Opened key={card.id} card={card} refit={reviewStore.refit} />}
    </div>
  );
}

/** The photograph once the browser has it. */
function Opened({ card, refit }: { card: AttachmentCard; refit: string }) {
  const [picture, setPicture] = useState<HTMLImageElement>();
  const [wrong, setWrong] = useState('');
  useEffect(() => {
    const image = new Image();
    image.onload = () => setPicture(image);
    image.onerror = () => setWrong(`${card.name} cannot be shown as a picture.`);
    image.src = attachmentPath(refit, card.id);
  }, [card, refit]);
  if (wrong) return <RefusalMessage words={wrong} />;
  return picture ? (
    <Marking picture={picture} name={card.name} id={card.id} />
  ) : (
    <p>Opening the photograph…</p>
  );
}
