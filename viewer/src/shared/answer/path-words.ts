/** A dotted path of a document or of an answer, in words. */
import { CHANGE_GROUPS } from '../words/constants.ts';
import { inCondition, plainWords, title, withoutUnit } from '../words/plain-words.ts';
import { resultWords } from './answer-line.ts';

/** A dotted path in words, what it belongs to first. */
export function pathWords(path: string): string {
  const [section = '', name = '', ...rest] = path.split('.');
  if (!name) return title(section);
  if (section === 'conditions') return resultPathWords(name, rest);
  const known: Readonly<Record<string, string>> = { changes: '', parts: '' };
  const begins = known[section] ?? `${title(section)}: `;
  const steps = rest.filter((step) => !CHANGE_GROUPS.some((group) => group === step));
  return [`${begins}${begins ? stepWords(name) : title(name)}`, ...steps.map(stepWords)].join(', ');
}

/** A result of a loading condition: "GM upright as found, in condition departure". */
function resultPathWords(condition: string, rest: readonly string[]): string {
  const stage = rest[0] === 'as_found' ? ' as found' : '';
  const result = rest.filter((step) => !UNSAID.includes(step)).join('.');
  if (!result) return title(inCondition(condition).replace(/^in /, ''));
  const words = `${stepWords(resultWords(result))}${stage}`;
  return `${words.charAt(0).toUpperCase()}${words.slice(1)}, ${inCondition(condition)}`;
}

/** Steps of a result's path that its name holds already. */
const UNSAID: readonly string[] = ['as_found', 'refit', 'freeboard_mm', 'mean_mm'];

/** A step of a path without its unit, abbreviations of the trade in capitals. */
const stepWords = (step: string): string =>
  plainWords(withoutUnit(step)).replace(/\b(gm|gz|vcg|lcg|tcg|lcb|lcf|km|avs)\b/g, (term) =>
    term.toUpperCase(),
  );
