/** Leads to the Guide’s entry on a term; nothing if there is none. */
import { useRoute } from '../../session/context.tsx';
import { hashOf } from '../../session/route.ts';
import type { TermId } from '../words/meanings.ts';

interface Props {
  readonly entry: TermId | undefined;
  readonly close?: () => void;
}

export function MoreInGuide({ entry, close }: Props) {
  const { route } = useRoute();
  if (entry === undefined) return null;
  return (
    <p>
      <a href={hashOf({ ...route, page: 'guide', entry })} onClick={close}>
        More in the guide
      </a>
    </p>
  );
}
