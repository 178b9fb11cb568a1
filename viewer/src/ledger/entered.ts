/** Weights typed in a line or pasted from a spreadsheet: what was read, and what was not. */
import { ROLE_KEYS, ROLE_WORDS } from '../shared/boat/ledger.ts';
import { choiceOf } from '../shared/words/choice.ts';
import { PROVENANCES } from '../shared/words/constants.ts';
import { count, freeKey, keyOf, plainWords } from '../shared/words/plain-words.ts';
import { quantityTyped, underHeading } from '../shared/words/typed.ts';

type EnteredRole = keyof typeof ROLE_KEYS;

/** The columns that are read, in the order in which they stand where there is no heading. */
const ORDER = ['what', 'kg', 'x', 'y', 'z', 'how', 'from', 'change'] as const;
const ENDS = ['to x', 'to y', 'to z'] as const;
type ColumnHead = (typeof ORDER)[number] | (typeof ENDS)[number];

const HEADS: Readonly<Record<string, ColumnHead>> = {
  ...Object.fromEntries([...ORDER, ...ENDS].map((head) => [head, head])),
  ...{ name: 'what', item: 'what', mass: 'kg', lb: 'kg', lbs: 'kg', source: 'from' },
};

export interface EnteredWeight {
  /** Where the document will keep it. */
  readonly path: string;
  readonly key: string;
  readonly name: string;
  readonly role: EnteredRole;
  readonly value: Readonly<Record<string, unknown>>;
}

export interface Entered {
  readonly weights: readonly EnteredWeight[];
  /** What was not understood, one sentence each; nothing is taken where there is any. */
  readonly misread: readonly string[];
}

interface Ledger {
  /** The change that takes what names none. */
  readonly change: string;
  readonly changes: readonly string[];
  readonly isTaken: (path: string) => boolean;
}

type TypedCells = Readonly<Partial<Record<ColumnHead, string>>>;

/** A column of what was pasted: what it means, and its heading as it stands. */
interface EnteredColumn {
  readonly head: ColumnHead | undefined;
  readonly heading: string;
}

/** Cells of a line: parted by tabs, else by semicolons, else by commas with a space behind. */
const cellsOf = (line: string): readonly string[] => {
  const by = [/\t/, /;/].find((sign) => sign.test(line)) ?? /,\s/;
  return line.split(by).map((cell) => cell.trim());
};

/** A text as weights. */
export function entered(text: string, ledger: Ledger): Entered {
  const lines = text
    .replace(/\r/g, '')
    .split('\n')
    .map((line, i) => ({ cells: cellsOf(line), number: i + 1 }))
    .filter(({ cells }) => cells.some((cell) => cell !== ''));
  const first = lines[0]?.cells ?? [];
  const isHeading = first.length > 1 && first.every((cell) => !/\d/.test(cell));
  const { columns, misread } = isHeading ? headed(first) : { columns: UNHEADED, misread: [] };
  const rows = lines.slice(isHeading ? 1 : 0);
  const comma = rows.flatMap(({ cells }) => cells).find((cell) => WITH_COMMA.test(cell));
  const taken = new Set<string>();
  const read = rows.map(({ cells, number }) => {
    const where = lines.length > 1 ? `Row ${number}` : 'This row';
    const extra = cells.slice(columns.length).filter(Boolean);
    const named = Object.fromEntries(columns.map((column, i) => cellIn(column, cells[i] ?? '')));
    const one = weightOf(named, ledger, (path) => taken.has(path) || ledger.isTaken(path));
    if (one.weight) taken.add(one.weight.path);
    const over = extra.length > 0 ? [`has more cells than there are columns`] : [];
    const wrong = [...over, ...twoWays(cells, comma), ...one.wrong];
    return { weight: one.weight, misread: wrong.map((w) => `${where} ${w}.`) };
  });
  const nothing = rows.length === 0 ? ['No weight was found in the entry.'] : [];
  return {
    weights: read.flatMap(({ weight }) => weight ?? []),
    misread: [...misread, ...read.flatMap((row) => row.misread), ...nothing],
  };
}

const UNHEADED: readonly EnteredColumn[] = ORDER.map((head) => ({ head, heading: '' }));
const IGNORED = ['', '±', 'effect on trim'];

/** The columns under a row of headings, and which headings are not known or mean the same. */
function headed(cells: readonly string[]) {
  const plain = cells.map((cell) =>
    cell
      .toLowerCase()
      .replace(/[,([].*$| (mm|cm|m|in|inches|ft|feet|kg|lbs?)$/, '')
      .trim(),
  );
  // "weight" is the name where another column holds the mass
  const weight = plain.some((one) => HEADS[one] === 'kg') ? 'what' : 'kg';
  const meanings: typeof HEADS = { ...HEADS, weight };
  const columns = plain.map((one, i) => ({ head: meanings[one], heading: cells[i] ?? '' }));
  const heads = columns.map(({ head }) => head);
  const misread = plain.flatMap((one, i) => {
    const { head, heading } = columns[i] ?? { head: undefined, heading: one };
    if (!head && !IGNORED.includes(one))
      return `Unknown heading “${one}”. The headings are ${[...ORDER, ...ENDS].join(', ')}.`;
    const earlier = head ? heads.indexOf(head) : i;
    return earlier < i ? `The headings “${cells[earlier]}” and “${heading}” mean the same.` : [];
  });
  return { columns, misread };
}

/** A cell by what its column means, in the unit of its heading. */
function cellIn({ head, heading }: EnteredColumn, cell: string) {
  if (!head) return ['', cell] as const;
  if (/^(to )?[xyz]$/.test(head)) return [head, underHeading(cell, heading, 'm')] as const;
  return [head, head === 'kg' ? underHeading(cell, heading, 'kg') : cell] as const;
}

const WITH_COMMA = /^[-+−]?\d+,\d{1,2}$/;
const WITH_POINT = /^[-+−]?[1-9]\d{0,2}\.\d{3}$/;

/** Numbers such as 1.250, which a decimal comma elsewhere would make a thousand times larger. */
function twoWays(cells: readonly string[], comma: string | undefined): readonly string[] {
  const found = comma === undefined ? [] : cells.filter((cell) => WITH_POINT.test(cell));
  return found.map((cell) => `has “${cell}”, which can be read two ways beside “${comma}”`);
}

interface EnteredRow {
  readonly weight?: EnteredWeight;
  /** What is wrong with it, each to follow "Row 3". */
  readonly wrong: readonly string[];
}

function weightOf(cells: TypedCells, ledger: Ledger, isTaken: Ledger['isTaken']): EnteredRow {
  const wrong: string[] = [];
  const role = roleOf(cells.how ?? '', wrong);
  const change = changeOf(cells.change ?? '', ledger, wrong);
  const from = fromOf(cells.from ?? '', wrong);
  const mass = massOf(cells, wrong);
  const at = placeOf(cells, ['x', 'y', 'z'], wrong);
  const to = role === 'moved' ? placeOf(cells, ENDS, wrong) : undefined;
  const name = (cells.what ?? '').trim();
  const among = `changes.${change}.${ROLE_KEYS[role]}`;
  const key = freeKey(name, 'weight', (one) => isTaken(`${among}.${one}`));
  const path = `${among}.${key}`;
  wrong.push(...nameTrouble({ name, key, role, change, isTwice: isTaken(path) }));
  if (wrong.length > 0) return { wrong };
  const value = { mass_kg: mass, at_m: at, ...(to ? { to_m: to } : {}), from };
  return { weight: { path, key, name, role, value }, wrong };
}

interface NameOf {
  readonly name: string;
  readonly key: string;
  readonly role: EnteredRole;
  readonly change: string;
  readonly isTwice: boolean;
}

function nameTrouble({ name, key, role, change, isTwice }: NameOf): readonly string[] {
  if (name === '') return ['has no name'];
  if (key === '') return [`has a name without letters or digits, “${name}”`];
  if (change === '' || !isTwice) return [];
  return [`names “${name}”, which ${ROLE_WORDS[role]} in ${plainWords(change)} already`];
}

const ROLES: readonly EnteredRole[] = ['added', 'removed', 'moved'];

function roleOf(words: string, wrong: string[]): EnteredRole {
  if (words === '') return 'added';
  const role = ROLES.find((one) => ROLE_WORDS[one] === words.toLowerCase());
  if (!role) wrong.push(`says “${words}”: write comes off, goes on or moves`);
  return role ?? 'added';
}

function changeOf(words: string, { change, changes }: Ledger, wrong: string[]): string {
  if (words === '') {
    if (change === '') wrong.push('belongs to no change: choose one, or add one first');
    return change;
  }
  const found = changes.find((one) => one === keyOf(words, '') || plainWords(one) === words);
  if (found === undefined) wrong.push(`names the change “${words}”, which does not exist`);
  return found ?? '';
}

function fromOf(words: string, wrong: string[]): string {
  if (words === '') return 'guessed';
  const found = choiceOf(PROVENANCES, words.toLowerCase());
  if (!found) wrong.push(`has the source “${words}”: write one of ${PROVENANCES.join(', ')}`);
  return found ?? 'guessed';
}

function massOf(cells: TypedCells, wrong: string[]): number {
  const mass = numberOf(cells, 'kg', 'kg', wrong);
  if (mass < 0) wrong.push('has a negative mass: write that it comes off instead');
  return mass;
}

/** A place, on the centreline where no y is given. */
const placeOf = (cells: TypedCells, heads: readonly ColumnHead[], wrong: string[]) =>
  heads.map((head) => numberOf(cells, head, 'm', wrong, head.endsWith('y') ? 0 : undefined));

function numberOf(
  cells: TypedCells,
  head: ColumnHead,
  unit: string,
  wrong: string[],
  otherwise?: number,
): number {
  const cell = (cells[head] ?? '').trim();
  if (cell === '' && otherwise !== undefined) return otherwise;
  const value = quantityTyped(cell, unit);
  if (cell === '') wrong.push(`has no ${head}`);
  else if (!Number.isFinite(value)) wrong.push(`has “${cell}” for ${head}, which is not a number`);
  return value;
}

/** What was read, in words: "3 weights". */
export const enteredWords = ({ weights }: Entered): string => count(weights.length, 'weight');
