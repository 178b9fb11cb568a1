/** What is asked of the server about a photograph of the boat: the photograph itself is not sent. */
import type { PhotographPlace, PhotographResult, PhotographToSolve } from '../contract.ts';
import { addressOf, ask, withQuery } from './api.ts';

/** Which boat is laid into it. */
export interface InPhotograph {
  readonly refit: string;
  readonly option: string | null;
  readonly condition: string;
}

const address = ({ refit, option, condition }: InPhotograph, rest = '') =>
  withQuery(addressOf(refit, `revisions/working/photograph${rest}`), { condition, option });

export const photographPlaces = (boat: InPhotograph, signal: AbortSignal) =>
  ask<readonly PhotographPlace[]>(address(boat, '/places'), { signal });

export const layIntoPhotograph = (
  boat: InPhotograph,
  body: PhotographToSolve,
  signal: AbortSignal,
) => ask<PhotographResult>(address(boat), { method: 'POST', body, signal });
