/** What is asked of the server about a photograph of the boat; its marks stand in the document. */
import type { PhotographPlace, PhotographResult } from '../contract.ts';
import { addressOf, ask, type View, withView } from './api.ts';

const address = (refit: string, view: View, rest: string, more = {}) =>
  withView(
    addressOf(refit, `revisions/${view.revision ?? 'working'}/photograph${rest}`),
    view,
    more,
  );

export const photographPlaces = (refit: string, option: string | null, signal: AbortSignal) =>
  ask<readonly PhotographPlace[]>(address(refit, { condition: undefined, option }, '/places'), {
    signal,
  });

export const layIntoPhotograph = (refit: string, view: View, name: string, signal: AbortSignal) =>
  ask<PhotographResult>(address(refit, view, '', { name }), { signal });
