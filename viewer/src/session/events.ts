/** Word from the server that something changed, heard while the page is looked at. */
import { Refusal } from './api.ts';
import { visitor } from './review-api.ts';
import { parsed } from './wire.ts';

interface Listeners {
  /** The boat is at this edit by now. */
  readonly edit: (edit: number) => void;
  /** Something may have been missed, or was written, frozen or signed; her file has trouble. */
  readonly other: () => void;
  /** The boat's file holds this edit. */
  readonly saved: (edit: number) => void;
  /** The server does not answer. */
  readonly lost: () => void;
  /** The reader is let in no more, in words. */
  readonly shut: (why: string) => void;
}

/** One stream of a browser's few; a page that nobody sees leaves it to the others. */
export function listen(refit: string, listeners: Listeners): () => void {
  let stream: EventSource | undefined;
  let isLate = document.visibilityState !== 'visible';

  function open(): void {
    stream = new EventSource(`/api/refits/${encodeURIComponent(refit)}/events`);
    stream.addEventListener('open', () => {
      if (isLate) listeners.other();
      isLate = true;
    });
    stream.addEventListener('edit', ({ data }: MessageEvent<string>) =>
      listeners.edit(parsed<{ readonly edit: number }>(data).edit),
    );
    stream.addEventListener('saved', ({ data }: MessageEvent<string>) =>
      listeners.saved(parsed<{ readonly edit: number }>(data).edit),
    );
    for (const kind of ['review', 'revision', 'file', 'link'])
      stream.addEventListener(kind, listeners.other);
    stream.addEventListener('shut', ({ data }: MessageEvent<string>) => {
      stream?.close();
      listeners.shut(parsed<{ readonly why: string }>(data).why);
    });
    stream.addEventListener('error', () => {
      listeners.lost();
      // a server that is away is tried again by itself; one that refuses says why to a question
      if (stream?.readyState !== EventSource.CLOSED) return;
      visitor().catch((error: unknown) => {
        if (error instanceof Refusal) listeners.shut(error.message);
      });
    });
  }

  function follow(): void {
    stream?.close();
    stream = undefined;
    if (document.visibilityState === 'visible') open();
  }

  document.addEventListener('visibilitychange', follow);
  follow();
  return () => {
    document.removeEventListener('visibilitychange', follow);
    stream?.close();
  };
}
