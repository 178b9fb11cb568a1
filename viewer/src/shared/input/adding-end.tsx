/** The end of a form that adds something: sent or put away, and why it was not taken. */
import { RefusalMessage } from '../feedback/refusal.tsx';

interface Props {
  readonly button: string;
  readonly cancel: () => void;
  readonly wrong: string;
}

export const AddingEnd = ({ button, cancel, wrong }: Props) => (
  <>
    <span class="adding-do">
      <button type="submit">{button}</button>
      <button type="button" class="quiet" onClick={cancel}>
        cancel
      </button>
    </span>
    <RefusalMessage words={wrong} />
  </>
);
