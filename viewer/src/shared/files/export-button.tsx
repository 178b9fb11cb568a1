/** A table that the server writes, saved on press. */
import type { ComponentChildren } from 'preact';
import * as api from '../../session/api.ts';
import { useBoat, useRoute } from '../../session/context.tsx';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { UnderWay } from '../feedback/under-way.tsx';
import { useAction } from '../feedback/use-action.ts';
import { download } from './download.ts';

interface Props {
  readonly name: 'levers.csv' | 'lines.csv';
  readonly condition?: string;
  readonly children: ComponentChildren;
}

export function ExportButton({ name, condition, children }: Props) {
  const { refit } = useBoat().working;
  const { route } = useRoute();
  const { busy, wrong, run, stop } = useAction();
  const save = () =>
    run(async (signal) => {
      const file = await api.exported(refit, name, { ...route, condition }, signal);
      download(file.name, file.content.type, file.content);
    });
  return (
    <>
      <button type="button" class="quiet" disabled={busy} onClick={() => void save()}>
        {children}
      </button>
      {busy && <UnderWay words="Preparing the file…" stop={stop} />}
      <RefusalMessage words={wrong} />
    </>
  );
}
