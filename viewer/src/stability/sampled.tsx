/** What many draws say of a boat whose GM is too small for linear plus/minus. */
import type { ConditionResult, SampledResult } from '../contract.ts';
import { drawnRows, uprightWords } from '../shared/answer/uncertainty.ts';
import { keyWords } from '../shared/words/plain-words.ts';
import { reworded } from '../shared/words/sentences.ts';

interface Props {
  readonly boats: readonly ConditionResult[];
}

interface Drawn {
  /** The name of the draws: with the boat they are of, if there are two. */
  readonly name: string;
  readonly drawn: SampledResult;
}

const drawnOf = (boats: readonly ConditionResult[]): readonly Drawn[] =>
  boats.flatMap(({ stage, sampled }) =>
    sampled
      ? [{ name: boats.length > 1 ? `Sampled, ${keyWords(stage)}` : 'Sampled', drawn: sampled }]
      : [],
  );

/** In how many of the draws each boat falls over; nothing where slopes speak for both. */
export const SampledShort = ({ boats }: Props) => (
  <>
    {drawnOf(boats).map(({ name, drawn }) => (
      <p key={name} class="sampled-short">
        <b>{name}.</b> {uprightWords(drawn)}
      </p>
    ))}
  </>
);

/** All that the draws say, boat beside boat. */
export function Sampled({ boats }: Props) {
  const all = drawnOf(boats);
  if (all.length === 0) return null;
  return (
    <div class="sampled">
      {all.map(({ name, drawn }) => (
        <section key={name} aria-label={name}>
          <h3>{name}</h3>
          <p>
            A linear ± cannot be trusted: {reworded(drawn.why)}. {drawn.draws} boats were sampled
            instead.
          </p>
          <table class="angles">
            <thead>
              <tr>
                <th scope="col">of the draws</th>
                {['5 % below', 'median', '5 % above'].map((head) => (
                  <th scope="col" class="n" key={head}>
                    {head}
                  </th>
                ))}
              </tr>
            </thead>
            <tbody>
              {drawnRows(drawn).map(({ name: row, words }) => (
                <tr key={row}>
                  <th scope="row">{row}</th>
                  {words.map((word, i) => (
                    <td class="n" key={i}>
                      {word}
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </section>
      ))}
    </div>
  );
}
