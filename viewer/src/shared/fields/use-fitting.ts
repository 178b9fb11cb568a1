/** Steel that is begun as it fits this hull, where the server knows how. */
import { useEffect, useState } from 'preact/hooks';
import { useBoat } from '../../session/context.tsx';
import { proposalOf } from '../../session/proposals-api.ts';
import { mapping } from '../boat/document.ts';

/** The change that a part at a path is one of, empty for an existing one; undefined for the rest. */
function changeOf(path: string): string | undefined {
  if (/^existing\.[^.]+$/.test(path)) return '';
  return /^changes\.([^.]+)\.parts\.[^.]+$/.exec(path)?.[1];
}

type SetValue = (change: (before: unknown) => unknown) => void;

/** How its dimensions were chosen, or why there are none; they replace what was just begun. */
export function useFitting(path: string, value: unknown, setValue: SetValue): string {
  const { working } = useBoat();
  const { refit, option } = working;
  const change = changeOf(path);
  const kind = String(mapping(value).kind ?? '');
  const [sentence, setSentence] = useState('');
  useEffect(() => {
    setSentence('');
    if (change === undefined || kind === '') return undefined;
    const leaving = new AbortController();
    const place = change === '' ? { refit, option } : { refit, option, change };
    // where it cannot be asked the usual dimensions stand
    proposalOf(place, kind, leaving.signal).then(
      (found) => {
        setSentence(found?.sentence ?? '');
        setValue((before) => (before === value ? (found?.dimensions ?? before) : before));
      },
      () => undefined,
    );
    return () => leaving.abort();
  }, [refit, option, change, kind]);
  return sentence;
}
