/** Why something was not taken. */
export const Wrong = ({ words }: { words: string }) =>
  words ? (
    <p class="refused" role="alert">
      {words}
    </p>
  ) : null;
