/** Brings the field or line of a path into view and gives it the focus, once it is drawn. */
import { pathsUp } from './explained.ts';

const PATIENCE_MS = 2000;
/** The handle of the sheet from below that holds the panel on a phone. */
const FOLDED_SHEET = '.panel-handle[aria-expanded="false"]';

export function reveal(path: string): void {
  const until = performance.now() + PATIENCE_MS;
  const look = () => {
    if (opened(path)) return void requestAnimationFrame(look);
    const there = pathsUp(path)
      .map((one) => CSS.escape(one))
      .map((one) =>
        document.querySelector<HTMLElement>(`[data-path="${one}"], [data-entry="${one}"]`),
      )
      .find((found) => found !== null);
    if (there) show(there);
    else if (performance.now() < until) requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}

/** Opens the outermost closed entry that a path lies in; whether there was one. */
function opened(path: string): boolean {
  const closed = pathsUp(path)
    .toReversed()
    .map((one) =>
      document.querySelector<HTMLElement>(
        `[data-entry="${CSS.escape(one)}"] > .named-head > [aria-expanded="false"]`,
      ),
    )
    .find((found) => found !== null);
  closed?.click();
  return closed !== undefined;
}

function show(there: HTMLElement): void {
  const fold = there.closest('details');
  if (fold) fold.open = true;
  there.closest('.panel')?.querySelector<HTMLElement>(FOLDED_SHEET)?.click();
  there.scrollIntoView({ block: 'center' });
  const within = there.querySelector<HTMLElement>('input, select, .doing button, button');
  (within ?? there).focus();
}
