/** What changes the boat; not there where she is only looked at. */
import type { ComponentChildren } from 'preact';
import { useApp } from '../../session/context.ts';

export function Editing({ children }: { children: ComponentChildren }) {
  return useApp().readOnly ? null : children;
}
