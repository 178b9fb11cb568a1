/** What the rows in sight add up to, beside all of them: always at the foot of the window. */
import { kilograms, signedQuantity } from '../shared/words/numbers.ts';
import { count } from '../shared/words/plain-words.ts';
import type { LedgerSums } from './view-of.ts';

interface Props {
  /** Undefined where everything is shown. */
  readonly shown: LedgerSums | undefined;
  readonly all: LedgerSums;
}

export const Sums = ({ shown, all }: Props) => (
  <div class="ledger-sums">
    <table>
      <caption class="unseen">Sums</caption>
      <thead class="unseen">
        <tr>
          {['rows', 'net', 'goes on', 'comes off', 'moves'].map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {shown && <SumRow name={`Shown, ${count(shown.rows, 'row')}`} sums={shown} />}
        <SumRow name={`All, ${count(all.rows, 'row')}`} sums={all} />
      </tbody>
    </table>
  </div>
);

const SumRow = ({ name, sums }: { name: string; sums: LedgerSums }) => (
  <tr>
    <th scope="row">{name}</th>
    <td>
      <small>net</small> <b>{signedQuantity(sums.net_kg, 'kg', 1)}</b>
    </td>
    <td>
      <small>goes on</small> {kilograms(sums.on_kg)}
    </td>
    <td>
      <small>comes off</small> {kilograms(sums.off_kg)}
    </td>
    <td>
      <small>moves</small> {kilograms(sums.moved_kg)}
    </td>
  </tr>
);
