/** What a change or a part does to the boat, each figure of it opening. */

import type { Effect } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { effectOf } from '../answer/effects.ts';
import type { Line } from '../explain/opened.tsx';
import { Opens } from '../explain/opens.tsx';
import { Trim } from '../feedback/wedge.tsx';
import { heelWords, signed, sinkWords, trimWords } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';

interface Props {
  readonly of: { readonly id: string; readonly effect: Effect | null };
  /** Path of what has the effect. */
  readonly path: string;
  readonly meaning: string;
  /** What the card of the trim tells besides. */
  readonly rows?: readonly Line[];
}

export function EffectLine({ of, path, meaning, rows = [] }: Props) {
  const { scales } = useBoat();
  const effect = effectOf(of);
  const explained = (figure: keyof Effect, what: string) => ({
    title: `Effect of ${plainWords(of.id)} on ${what}`,
    meaning,
    path: `${path}.effect.${figure}`,
  });
  const whole: Line = ['net', wholeEffect(effect)];
  return (
    <p class="effect-line">
      <Opens explained={{ ...explained('trim_mm', 'trim'), rows: [whole, ...rows] }}>
        <Trim mm={effect.trim_mm} top={scales.trimTop} />
      </Opens>{' '}
      · <Opens explained={explained('sinkage_mm', 'sinkage')}>{sinkWords(effect.sinkage_mm)}</Opens>{' '}
      · <Opens explained={explained('vcg_mm', 'VCG')}>VCG {signed(effect.vcg_mm, 1)} mm</Opens> ·{' '}
      <Opens explained={explained('gm_mm', 'GM upright')}>
        GM upright {signed(effect.gm_mm, 1)} mm
      </Opens>
    </p>
  );
}

/** All of an effect in words. */
export const wholeEffect = (e: Effect) =>
  `${trimWords(e.trim_mm)}, ${sinkWords(e.sinkage_mm)}, list ${heelWords(e.heel_deg)}, VCG ${signed(e.vcg_mm, 1)} mm, GM upright ${signed(e.gm_mm, 1)} mm`;
