/** Asks for lines of a hull from a source; nothing changes until they are taken over. */
import type {
  CloudPoints,
  GivenLines,
  LinesPreview,
  NineDimensions,
  OriginText,
  TableText,
  TapeText,
  TracedDrawing,
  Working,
} from '../contract.ts';
import type { Point } from '../shared/boat/points.ts';
import { addressOf, ask, sendFile, sentForFile, type View, withQuery, withView } from './api.ts';

const preview =
  <Given extends object>(source: string) =>
  (refit: string, body: Given, signal: AbortSignal) =>
    ask<LinesPreview>(addressOf(refit, `hull-sources/${source}`), { method: 'POST', body, signal });

export const tableLines = preview<Partial<TableText>>('table');
export const dimensionLines = preview<NineDimensions>('dimensions');

export const tapeLines = preview<Partial<TapeText>>('tape');
export const drawingLines = preview<TracedDrawing>('drawing');

/** What is picked on a scan, in the file's axes. */
interface ScanPicks {
  readonly waterline_m: readonly Point[];
  readonly bow_m: Point | null;
  readonly chines: Readonly<Record<string, readonly Point[]>>;
}

/** How a file is to be read, as the words of an address. */
type FileWords = Readonly<Record<string, string>>;

const fileAddress = (refit: string, source: string, words: FileWords) =>
  withQuery(addressOf(refit, `hull-sources/${source}`), words);

export const scanPoints = (refit: string, file: File, unit: string, signal: AbortSignal) =>
  sendFile<CloudPoints>(fileAddress(refit, 'cloud', { name: file.name, unit }), file, signal);
export const scanLines = (
  refit: string,
  file: File,
  unit: string,
  picks: ScanPicks,
  signal: AbortSignal,
) =>
  sendFile<LinesPreview>(
    fileAddress(refit, 'scan', { name: file.name, unit, picks: JSON.stringify(picks) }),
    file,
    signal,
  );
export const cadLines = (refit: string, file: File, words: FileWords, signal: AbortSignal) =>
  sendFile<LinesPreview>(fileAddress(refit, 'step', { name: file.name, ...words }), file, signal);

/** A page of a PDF as a picture, and how many pages it has. */
export const pdfPage = (refit: string, file: File, page: number) =>
  sentForFile(fileAddress(refit, 'pdf-page', { page: String(page) }), file, 'x-page-count');

/** Lines of a preview as they are taken over, and where they come from. */
export function givenLines(
  { lines, source, plus_minus_m, size }: LinesPreview,
  note: string,
): GivenLines {
  const origin: OriginText = { source, plus_minus_m, note: note || null };
  const plain = Object.entries(lines).map(
    ([name, { kind, points_m, knuckles_at_x_m }]) =>
      [name, { kind, points_m, knuckles_at_x_m }] as const,
  );
  const length_waterline_m = size ? Number(size.waterline_m.toFixed(3)) : null;
  return { lines: Object.fromEntries(plain), origin, length_waterline_m };
}

export const takeLines = (refit: string, view: View, edit: number, body: GivenLines) =>
  ask<Working>(withView(addressOf(refit, 'hull-sources/lines'), view), {
    method: 'POST',
    body,
    edit,
  });
