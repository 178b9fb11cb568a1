/** The picture of the printed sheet, fetched before it is shown: a printer does not wait for it. */
let ahead: { readonly source: string; readonly image: HTMLImageElement } | undefined;

/** Fetches a picture before it is shown; done when it is there, or cannot be had. */
export function fetchAhead(source: string): Promise<unknown> {
  if (ahead?.source !== source) {
    ahead = { source, image: new Image() };
    ahead.image.src = source;
  }
  return ahead.image.decode().catch(() => undefined);
}

/** Whether it can be shown at once. */
export const isThere = (source: string): boolean =>
  ahead?.source === source && ahead.image.complete && ahead.image.naturalWidth > 0;
