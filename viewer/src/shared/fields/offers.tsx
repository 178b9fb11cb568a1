/** Dimensions that build where what was typed does not: each is one press away. */
import { createContext } from 'preact';
import { useContext } from 'preact/hooks';
import type { ProblemOffer } from '../../contract.ts';
import { WhenEditable } from './editing.tsx';
import { useWriting } from './form-source.tsx';
import { offeredSteps, offeredWords, type WholeForm } from './offer-words.ts';

const FormContext = createContext<WholeForm | undefined>(undefined);

/** The whole form that the fields inside belong to. */
export const WholeFormProvider = FormContext.Provider;
export const useWholeForm = (): WholeForm | undefined => useContext(FormContext);

interface Props {
  readonly offers: readonly ProblemOffer[];
  /** Of what was refused. */
  readonly path: string;
  readonly value: unknown;
}

export function Offers({ offers, path, value }: Props) {
  const form = useWholeForm();
  const writing = useWriting();
  if (offers.length === 0 || form === undefined) return null;
  return (
    <WhenEditable>
      <p class="offers">
        {offers.map((offer) => {
          const words = offeredWords(form, offer, path, value);
          return (
            <button
              key={words}
              type="button"
              class="quiet"
              onClick={() => writing.send(offeredSteps(offer, path, value), words)}
            >
              use {words}
            </button>
          );
        })}
      </p>
    </WhenEditable>
  );
}
