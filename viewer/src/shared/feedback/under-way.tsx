/** What is under way, for how long, and stopping it. */
import { Seconds } from './seconds.tsx';

interface Props {
  readonly words: string;
  readonly stop: () => void;
}

export const UnderWay = ({ words, stop }: Props) => (
  <span class="under-way">
    <span role="status">{words}</span>
    <Seconds />{' '}
    <button type="button" class="quiet" onClick={stop}>
      Stop
    </button>
  </span>
);
