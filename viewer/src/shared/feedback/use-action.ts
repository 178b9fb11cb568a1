/** Something that is sent: while it is on its way, and why it was not taken. */
import { useState } from 'preact/hooks';
import { whyNot } from '../../session/review-store.ts';

export function useAction() {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState('');
  const run = async (act: () => Promise<unknown>): Promise<boolean> => {
    setBusy(true);
    setWrong('');
    try {
      await act();
      return true;
    } catch (error) {
      setWrong(whyNot(error));
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { busy, wrong, run };
}
