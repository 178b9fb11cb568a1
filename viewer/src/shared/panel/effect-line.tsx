/** What a change or a part does to the boat, each figure of it opening. */

import type { Effect } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { effectOrNone } from '../answer/effects.ts';
import { MEASURES, measureWords } from '../colour/measures.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import type { ExplanationLine } from '../explain/explanation-card.tsx';
import { Trim } from '../feedback/wedge.tsx';
import { signedQuantity, sinkWords } from '../words/numbers.ts';
import { plainWords } from '../words/plain-words.ts';

interface Props {
  readonly of: { readonly id: string; readonly effect: Effect | null };
  /** Path of what has the effect. */
  readonly path: string;
  readonly meaning: string;
  /** What the card of the trim tells besides. */
  readonly rows?: readonly ExplanationLine[];
}

export function EffectLine({ of, path, meaning, rows = [] }: Props) {
  const { scales } = useBoat();
  const effect = effectOrNone(of);
  const explained = (figure: keyof Effect, what: string) => ({
    title: `Effect of ${plainWords(of.id)} on ${what}`,
    meaning,
    path: `${path}.effect.${figure}`,
  });
  const whole: ExplanationLine = ['net', wholeEffect(effect)];
  return (
    <p class="effect-line">
      <ExplainButton explained={{ ...explained('trim_mm', 'trim'), rows: [whole, ...rows] }}>
        <Trim mm={effect.trim_mm} top={scales.trimTop} />
      </ExplainButton>{' '}
      ·{' '}
      <ExplainButton explained={explained('sinkage_mm', 'sinkage')}>
        {sinkWords(effect.sinkage_mm)}
      </ExplainButton>{' '}
      ·{' '}
      <ExplainButton explained={explained('vcg_mm', 'VCG')}>
        VCG {signedQuantity(effect.vcg_mm, 'mm', 1)}
      </ExplainButton>{' '}
      ·{' '}
      <ExplainButton explained={explained('gm_mm', 'GM upright')}>
        GM upright {signedQuantity(effect.gm_mm, 'mm', 1)}
      </ExplainButton>
    </p>
  );
}

/** All of an effect in words. */
export const wholeEffect = (e: Effect) =>
  `${measureWords(MEASURES.trim, e.trim_mm)}, ${sinkWords(e.sinkage_mm)}, ${measureWords(MEASURES.list, e.heel_deg)}, VCG ${signedQuantity(e.vcg_mm, 'mm', 1)}, GM upright ${signedQuantity(e.gm_mm, 'mm', 1)}`;
