/** The still picture of a boat: the server's, or the one in the file that is open. */
import { addressOf, type View, viewQuery } from './api.ts';

let kept: string | undefined;

/** Keeps the picture a file is opened with, of the reference condition; call before it is drawn over. */
export function keepFirstPicture(): void {
  kept = document.querySelector<HTMLImageElement>('#app .cover')?.src;
}

export const isPictureInFile = () => kept !== undefined;

/** Where it is to be had; `edit` tells one working copy from the next. */
export function pictureOf(refit: string, view: View, edit?: number): string {
  const more = edit === undefined ? {} : { edit: String(edit) };
  const place = `revisions/${view.revision ?? 'working'}/picture.png`;
  return kept ?? addressOf(refit, place) + viewQuery(view, more);
}
