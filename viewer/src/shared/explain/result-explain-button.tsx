/** A figure of one boat in one condition that opens; words alone where she has none. */
import type { ComponentChildren } from 'preact';
import type { ConditionResult } from '../../contract.ts';
import { mapping } from '../boat/document.ts';
import { keyWords, plainWords } from '../words/plain-words.ts';
import { ExplainButton } from './explain-button.tsx';

interface Props {
  readonly boat: ConditionResult;
  readonly name: string;
  /** Its path below the boat. */
  readonly figure: string;
  readonly children: ComponentChildren;
}

export function ResultExplainButton({ boat, name, figure, children }: Props) {
  if (mapping(boat)[figure] === null) return <>{children}</>;
  const whose = `${plainWords(boat.id)}, ${keyWords(boat.stage)}`;
  return (
    <ExplainButton
      explained={{
        title: `${name}, ${whose}`,
        path: `conditions.${boat.id}.${boat.stage}.${figure}`,
      }}
    >
      {children}
    </ExplainButton>
  );
}
