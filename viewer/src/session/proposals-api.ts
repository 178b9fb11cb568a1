/** What is asked of the server about parts that fit this hull. */
import type {
  AppendageProposal,
  PartProposal,
  PartToTry,
  PartTrial,
  ProposedEdit,
} from '../contract.ts';
import { addressOf, ask, withQuery } from './api.ts';

/** Where a part is to go. */
export interface PartPlace extends BoatAsFound {
  readonly change: string;
}

/** Where an existing part is: of no change. */
interface BoatAsFound {
  readonly refit: string;
  readonly option: string | null;
}

const addressFor = (
  { refit, option }: BoatAsFound,
  rest: string,
  more: Readonly<Record<string, string | number>>,
): string => withQuery(addressOf(refit, `revisions/working/proposals${rest}`), { ...more, option });

/** What a kind of part proposes; undefined where there is no such kind. */
export async function proposalOf(
  place: PartPlace | BoatAsFound,
  kind: string,
  signal: AbortSignal,
): Promise<PartProposal | undefined> {
  const query = 'change' in place ? { change: place.change, kind } : { kind };
  const [found] = await ask<readonly PartProposal[]>(addressFor(place, '', query), { signal });
  return found;
}

/** Builds a part and weighs it; nothing is added. */
export const tryPart = (place: PartPlace, body: PartToTry, signal: AbortSignal) =>
  ask<PartTrial>(addressFor(place, '/trial', {}), { method: 'POST', body, signal });

/** Keels, skegs and rudders to begin from. */
export const appendageProposals = (place: BoatAsFound, signal: AbortSignal) =>
  ask<readonly AppendageProposal[]>(addressFor(place, '/appendages', {}), { signal });

/** The edit that raises an existing house, by its path, forward and aft [m]. */
export const raisedHouse = (place: BoatAsFound, replaces: string, forward: number, aft: number) =>
  ask<ProposedEdit>(
    addressFor(place, '/raised-house', { replaces, forward_m: forward, aft_m: aft }),
  );
