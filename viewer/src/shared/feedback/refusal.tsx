/** Why something was not taken. */
export const RefusalMessage = ({ words }: { words: string }) =>
  words ? (
    <p class="refused" role="alert">
      {words}
    </p>
  ) : null;
