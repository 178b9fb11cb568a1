/** The Photograph page: the owner's own photograph, with the refit and both waterlines laid into it. */
import { useEffect, useState } from 'preact/hooks';
import type { AttachmentCard } from '../contract.ts';
import { useBoat, useEditing, useKnown, useReview, useRoute } from '../session/context.tsx';
import { attachmentPath } from '../session/review-api.ts';
import { hashOf } from '../session/route.ts';
import { keptName } from '../shared/comments/author.tsx';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { UnderWay } from '../shared/feedback/under-way.tsx';
import { useAction } from '../shared/feedback/use-action.ts';
import { FileDrop } from '../shared/files/file-drop.tsx';
import { PageHead } from '../shared/profile/page-head.tsx';
import { freeKey } from '../shared/words/plain-words.ts';
import { Marking } from './marking.tsx';
import { freeName, type Marked, photographsIn } from './marks.ts';
import { prepared } from './picture.ts';

const KINDS = ['image/jpeg', 'image/png', 'image/webp'];

const isPhotograph = (card: AttachmentCard) =>
  KINDS.includes(card.media_type) && card.removed_at === null;

/** The pictures there are by name, the first of each; where nothing can be changed, the marked ones. */
function usePictures() {
  const { reviewState } = useReview();
  const { document } = useBoat();
  const { readOnly } = useEditing();
  const marked = photographsIn(document);
  const all = reviewState.attachments.filter(isPhotograph);
  const first = all.filter((card, i) => all.findIndex((one) => one.name === card.name) === i);
  const isMarked = (card: AttachmentCard) => marked.some((one) => one.file === card.name);
  const pictures = readOnly ? first.filter(isMarked) : first;
  return { marked, pictures, lost: marked.filter((one) => !all.some((c) => c.name === one.file)) };
}

export function PhotographPage() {
  const { reviewStore } = useReview();
  const { readOnly } = useEditing();
  const { route } = useRoute();
  const [chosen, choose] = useState<string>();
  const { marked, pictures, lost } = usePictures();
  const card =
    pictures.find((one) => one.id === chosen) ??
    pictures.findLast((one) => marked.some(({ file }) => file === one.name)) ??
    pictures.at(-1);
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
        {readOnly ? (
          <OnlyLookedAt none={marked.length === 0} />
        ) : (
          <TakePicture {...{ choose, lost }} />
        )}
        {lost.length > 0 && <Lost lost={lost} />}
        {pictures.length > 1 && (
          <label>
            Photograph{' '}
            <select value={card?.id ?? ''} onChange={(e) => choose(e.currentTarget.value)}>
              {pictures.map((one) => (
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

/** Why nothing can be set here. */
function OnlyLookedAt({ none }: { none: boolean }) {
  const { visitor } = useKnown();
  const words =
    visitor.role === 'reviewer'
      ? 'The owner set these marks: you can look at them, but not change them.'
      : 'A frozen revision: its marks cannot be changed.';
  return <p class="about">{none ? 'No photograph is marked in this revision.' : words}</p>;
}

/** Marks whose picture is not on this server. */
function Lost({ lost }: { lost: readonly Marked[] }) {
  const { readOnly } = useEditing();
  const names = lost.map((one) => one.file).join(', ');
  return (
    <p>
      There are marks for {names}, but the photograph is not here:{' '}
      {readOnly ? 'ask the owner for it.' : 'choose it again under the same name.'}
    </p>
  );
}

interface TakeProps {
  readonly choose: (id: string | undefined) => void;
  readonly lost: readonly Marked[];
}

/** A picture is chosen, made ready, and kept with the boat. */
function TakePicture({ choose, lost }: TakeProps) {
  const { reviewStore, reviewState } = useReview();
  const { busy, wrong, run, stop } = useAction();
  const [done, setDone] = useState('');
  const names = reviewState.attachments.map((one) => one.name);
  const take = (given: File) =>
    void run(async (signal) => {
      setDone('');
      const { file, words } = await prepared(given);
      if (signal.aborted) return;
      const isBack = lost.some((one) => one.file === file.name);
      const name = isBack ? file.name : freeName(file.name, names);
      const kept = new File([file], name, { type: file.type });
      const [id] = await reviewStore.attach([kept], keptName() || 'owner');
      choose(id);
      setDone(words);
    });
  return (
    <>
      <FileDrop
        words="Drop a photograph of the boat here (JPEG or PNG), or choose one:"
        accept=".jpg,.jpeg,.png,.webp"
        take={take}
      >
        {busy && (
          <UnderWay words="Reading the photograph and saving it with the boat…" stop={stop} />
        )}
      </FileDrop>
      <p class="about">
        The photograph is kept among the boat’s attached files, where anyone with a link to her can
        see it; the marks are kept in her document. The place and time it was taken are removed.
      </p>
      <RefusalMessage words={wrong} />
      {done && <p role="status">{done}</p>}
    </>
  );
}

/** The photograph once the browser has it. */
function Opened({ card, refit }: { card: AttachmentCard; refit: string }) {
  const [picture, setPicture] = useState<HTMLImageElement>();
  const [wrong, setWrong] = useState('');
  const { document } = useBoat();
  useEffect(() => {
    const image = new Image();
    image.onload = () => setPicture(image);
    image.onerror = () => setWrong(`${card.name} cannot be shown as a picture.`);
    image.src = attachmentPath(refit, card.id);
  }, [card.id, refit]);
  if (wrong) return <RefusalMessage words={wrong} />;
  const keys = photographsIn(document).map((one) => one.key);
  const stem = card.name.replace(/\.\w+$/, '').slice(0, 50);
  const name = freeKey(stem, 'photograph', (key) => keys.includes(key));
  return picture ? (
    <Marking picture={picture} file={card.name} name={name} />
  ) : (
    <p>Opening the photograph…</p>
  );
}
