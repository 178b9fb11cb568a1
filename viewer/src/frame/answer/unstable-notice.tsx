/** Said above every page of a float that does not stay upright: it shows a boat that is not so. */
import { useBoat } from '../../session/context.tsx';

export function UnstableNotice() {
  const { working, condition } = useBoat();
  const falls = working.assessment.findings.filter(
    ({ code, place }) => code === 'unstable-upright' && place === `conditions.${condition}`,
  );
  if (falls.length === 0) return null;
  return (
    <section class="notice falls" aria-label="Does not stay upright">
      {falls.map(({ sentence }) => (
        <p key={sentence}>
          <b>Fails.</b> {sentence}{' '}
          {sentence.includes('upside down') &&
            'The drawings show her like that. Effects of single changes on sinkage, trim and list mean little until she floats upright.'}
        </p>
      ))}
    </section>
  );
}
