/** What is worth weighing or measuring next: each cause's share of what is not known. */
import type { ConditionResult, ShareResult, SharesResult } from '../contract.ts';
import { causeWords } from '../shared/answer/uncertainty.ts';
import { ResultExplainButton } from '../shared/explain/result-explain-button.tsx';
import { number } from '../shared/words/numbers.ts';

const RESULTS: readonly (readonly [keyof SharesResult, string])[] = [
  ['gm_m', 'GM upright'],
  ['vanishing_angle_deg', 'AVS'],
  ['greatest_gz_m', 'maximum GZ'],
];
const MOST = 3;
const WORTH_A_LINE = 0.5; // [%]

export function WeighNext({ now }: { now: ConditionResult }) {
  const listed = RESULTS.filter(([figure]) => worth(now.shares[figure]).length > 0);
  if (listed.length === 0) return null;
  return (
    <section class="weigh-next" aria-label="What to measure next">
      <h3>What to measure next</h3>
      <p class="about">What causes the uncertainty, as a share of its variance.</p>
      <table>
        {listed.map(([figure, name]) => (
          <Shares
            key={figure}
            now={now}
            figure={figure}
            name={name}
            shares={worth(now.shares[figure])}
          />
        ))}
      </table>
    </section>
  );
}

interface SharesProps {
  readonly now: ConditionResult;
  readonly figure: keyof SharesResult;
  readonly name: string;
  readonly shares: readonly ShareResult[];
}

const Shares = ({ now, figure, name, shares }: SharesProps) => (
  <tbody>
    {shares.map(({ cause, share_percent }, i) => (
      <tr key={cause}>
        {i === 0 && (
          <th scope="rowgroup" rowSpan={shares.length}>
            {name}
          </th>
        )}
        <td>{causeWords(cause)}</td>
        <td class="n">
          <ResultExplainButton
            boat={now}
            name={`${name}, share of ${causeWords(cause)}`}
            figure={`shares.${figure}.${cause}.share_percent`}
          >
            {number(share_percent, 1)} %
          </ResultExplainButton>
        </td>
      </tr>
    ))}
  </tbody>
);

const worth = (shares: readonly ShareResult[]) =>
  shares.filter((share) => share.share_percent >= WORTH_A_LINE).slice(0, MOST);
