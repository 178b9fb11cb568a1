/** Something that is sent: while it is on its way, and why it was not taken. */
import { useRef, useState } from 'preact/hooks';
import { whyNot } from '../../session/review-store.ts';

export function useAction() {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState('');
  const stopping = useRef<AbortController>(undefined);
  const run = async (act: (signal: AbortSignal) => Promise<unknown>): Promise<boolean> => {
    const own = new AbortController();
    stopping.current = own;
    setBusy(true);
    setWrong('');
    try {
      await act(own.signal);
      return !own.signal.aborted;
    } catch (error) {
      setWrong(own.signal.aborted ? '' : whyNot(error));
      return false;
    } finally {
      setBusy(false);
    }
  };
  const stop = () => stopping.current?.abort();
  return { busy, wrong, run, stop };
}
