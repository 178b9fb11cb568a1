/** The field of a section of the document, by its path. */
import { useMemo } from 'preact/hooks';
import { useKnown } from '../../session/context.tsx';
import { documentFields, type Field, fieldAt } from './forms.ts';

export function useDocumentField(path: string): Field | undefined {
  const { grammar } = useKnown();
  const fields = useMemo(() => documentFields(grammar.document_schema), [grammar]);
  return fieldAt(fields, path);
}
