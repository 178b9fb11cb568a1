/** Asks for lines of a hull from a source; nothing changes until they are taken over. */
import type {
  GivenLines,
  LinesPreview,
  NineDimensions,
  OriginText,
  TableText,
  Working,
} from '../contract.ts';
import { addressOf, ask, type View, viewQuery } from './api.ts';

const preview =
  <Given extends object>(source: string) =>
  (refit: string, body: Given) =>
    ask<LinesPreview>(addressOf(refit, `hull-sources/${source}`), { method: 'POST', body });

export const tableLines = preview<Partial<TableText>>('table');
export const dimensionLines = preview<NineDimensions>('dimensions');

/** Lines of a preview as they are taken over, and where they come from. */
export function givenLines(
  { lines, source, plus_minus_m }: LinesPreview,
  note: string,
): GivenLines {
  const origin: OriginText = { source, plus_minus_m, note: note || null };
  const plain = Object.entries(lines).map(
    ([name, { kind, points_m, knuckles_at_x_m }]) =>
      [name, { kind, points_m, knuckles_at_x_m }] as const,
  );
  return { lines: Object.fromEntries(plain), origin };
}

export const takeLines = (refit: string, view: View, edit: number, body: GivenLines) =>
  ask<Working>(`${addressOf(refit, 'hull-sources/lines')}${viewQuery(view)}`, {
    method: 'POST',
    body,
    edit,
  });
