/** What is not the same in two revisions, in words and in groups. */
import type { Compared, ComparedRow, ScenePart } from '../contract.ts';
import type { Drawable } from '../shared/colour/paint.ts';
import { quantity, quantityInFull, signedQuantity } from '../shared/words/numbers.ts';
import { plainWords, title } from '../shared/words/plain-words.ts';
import { shownStep } from '../shared/words/units.ts';
import { documentValueWords } from './document-values.ts';

const GROUP_WORDS: Readonly<Record<ComparedRow['group'], string>> = {
  tool: 'Version of the tool',
  dimensions: 'Dimensions',
  weights: 'Weights',
  'other figures': 'Other figures of the document',
  parts: 'Parts',
  plates: 'Plates',
  results: 'Results',
  criteria: 'Criteria',
  formulas: 'Formulas and sources',
};

export interface ComparedLine {
  readonly path: string;
  readonly name: string;
  readonly before: string;
  readonly after: string;
  readonly change: string;
}
export interface RowGroup {
  readonly words: string;
  readonly rows: readonly ComparedLine[];
  /** Rows that are folded away, and why. */
  readonly folded: readonly (readonly [string, readonly ComparedLine[]])[];
}

/** The rows by group; small ones, and results of conditions not looked at, are folded. */
export function groupsOf(rows: readonly ComparedRow[], condition: string): RowGroup[] {
  const here = `${condition}, refit`;
  const elsewhere = ({ group, where, before }: ComparedRow) =>
    (group === 'results' || group === 'criteria') &&
    where !== here &&
    where !== 'hull' &&
    typeof before !== 'string';
  return [...new Set(rows.map((row) => row.group))].map((group) => {
    const own = rows.filter((row) => row.group === group);
    const large = own.filter((row) => !row.is_small);
    const folded: (readonly [string, readonly ComparedRow[]])[] = [
      ['in other conditions', large.filter(elsewhere)],
      ['too small to matter', own.filter((row) => row.is_small)],
    ];
    return {
      words: GROUP_WORDS[group],
      rows: large.filter((row) => !elsewhere(row)).map(rowOf),
      folded: folded.flatMap(([why, some]) =>
        some.length > 0 ? [[why, some.map(rowOf)] as const] : [],
      ),
    };
  });
}

function rowOf(row: ComparedRow): ComparedLine {
  const { before, after, step, unit } = row;
  const words = (value: unknown) => {
    if (typeof value !== 'number') return documentValueWords(value);
    return step === null ? quantityInFull(value, unit) : quantity(value, unit, step);
  };
  return {
    path: row.path,
    name: nameOf(row),
    before: before === null ? 'not there' : words(before),
    after: after === null ? 'gone' : words(after),
    change:
      typeof before === 'number' && typeof after === 'number' ? changeOf(before, after, row) : '',
  };
}

/** Of the figures as they are shown, so that a row adds up. */
function changeOf(before: number, after: number, { step, unit }: ComparedRow): string {
  if (step === null) return `${after > before ? '+' : ''}${quantityInFull(after - before, unit)}`;
  const own = shownStep(unit, step);
  const shown = (value: number) => Math.round(value / own) * own;
  return signedQuantity(shown(after) - shown(before), unit, step);
}

function nameOf({ where, what, unit, group }: ComparedRow): string {
  const isInput = group === 'dimensions' || group === 'weights' || group === 'other figures';
  const plain = isInput && unit ? what.replace(/_[a-z0-9]+$/, '') : what;
  const own = isInput ? plainWords(plain) : plain;
  return where ? `${title(where.replaceAll('.', ', '))}: ${own}` : title(own);
}

const contentOf = (mesh: string) => mesh.slice(mesh.lastIndexOf('/') + 1);

/** What to draw: the new scene, and over it the old outline of whatever is not the same. */
export function overlaid({ scene_before: old, scene_after: now }: Compared) {
  const isSame = (a: ScenePart, b: ScenePart | undefined) =>
    b !== undefined && contentOf(a.mesh) === contentOf(b.mesh);
  const drawn = now.filter((piece) => piece.role !== 'replaced');
  const wasDrawn = old.filter((piece) => piece.role !== 'replaced');
  const differing = drawn.filter(
    (piece) =>
      !isSame(
        piece,
        wasDrawn.find((one) => one.id === piece.id),
      ),
  );
  const outlines = wasDrawn.filter(
    (piece) =>
      !isSame(
        piece,
        drawn.find((one) => one.id === piece.id),
      ),
  );
  return {
    pieces: [
      ...drawn,
      ...outlines.map((one) => ({ ...one, id: `before ${one.id}`, role: 'before' as const })),
    ] satisfies Drawable[],
    differing: new Set(differing.map((piece) => piece.id)),
    outlined: outlines.map((piece) => piece.id),
  };
}
