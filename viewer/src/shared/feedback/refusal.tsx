/** Why something was not taken. */
import { reworded } from '../words/sentences.ts';
export const RefusalMessage = ({ words }: { words: string }) =>
  words ? (
    <p class="refused" role="alert">
      {reworded(words)}
    </p>
  ) : null;
