/** While there is nothing to show yet. */
import { Seconds } from './seconds.tsx';

interface Props {
  readonly words: string;
}

export const Waiting = ({ words }: Props) => (
  <main class="waiting">
    <h1>hullchange</h1>
    <WaitingLine words={words} />
  </main>
);

/** The same where the page around it stands already. */
export const WaitingHere = ({ words }: Props) => (
  <div class="waiting">
    <WaitingLine words={words} />
  </div>
);

const WaitingLine = ({ words }: Props) => (
  <p>
    <span role="status">{words}</span>
    <Seconds />
  </p>
);
