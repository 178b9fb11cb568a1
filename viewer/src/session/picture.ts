/** The still picture of a boat: the server's, or the one in the file that is open. */
import { addressOf, type View, withView } from './api.ts';

let kept: string | undefined;

/** Keeps the picture a file is opened with, of the reference condition; call before it is drawn over. */
export function keepFirstPicture(): void {
  kept = document.querySelector<HTMLImageElement>('#app .cover')?.src;
}

export const isPictureInFile = () => kept !== undefined;

/** Where it is to be had; `edit` tells one working copy from the next. */
export function pictureOf(refit: string, view: View, edit?: number): string {
  const path = addressOf(refit, `revisions/${view.revision ?? 'working'}/picture.png`);
  return kept ?? withView(path, view, { edit });
}
