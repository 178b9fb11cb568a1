/** What changes the boat; not there where she is only looked at. */
import type { ComponentChildren } from 'preact';
import { useEditing } from '../../session/context.tsx';

export function WhenEditable({ children }: { children: ComponentChildren }) {
  return useEditing().readOnly ? null : children;
}
