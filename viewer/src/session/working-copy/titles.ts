/** Names as their owner typed them, kept beside the keys they became and deleted with them. */
import type { Edit } from '../../contract.ts';
import { at, isMapping, type Mapping, mapping } from '../../shared/boat/document.ts';
import { lastKey } from '../../shared/words/plain-words.ts';

type EditSteps = Edit['steps'];

/** The steps with those that name what they add as it was typed, or that take its name away. */
export function withTitles(
  steps: EditSteps,
  document: Mapping,
  typed: ReadonlyMap<string, string>,
): EditSteps {
  return [...steps, ...added(steps, typed), ...taken(steps, document)];
}

function added(steps: EditSteps, typed: ReadonlyMap<string, string>): EditSteps {
  const keys = new Set(
    steps.flatMap((step) =>
      step.op === 'set' ? [lastKey(step.path), ...keysIn(step.value, '', [])] : [],
    ),
  );
  return [...typed].flatMap(([key, name]) =>
    keys.has(key) ? [{ op: 'set' as const, path: `titles.${key}`, value: name }] : [],
  );
}

function taken(steps: EditSteps, document: Mapping): EditSteps {
  const removed = steps.flatMap((step) => (step.op === 'remove' ? [step.path] : []));
  const titles = Object.keys(mapping(at(document, 'titles')));
  if (removed.length === 0 || titles.length === 0) return [];
  const before = keysIn(document, '', ['titles']);
  const after = keysIn(document, '', ['titles', ...removed]);
  const gone = titles.filter((key) => before.has(key) && !after.has(key));
  if (gone.length === titles.length) return [{ op: 'remove', path: 'titles' }];
  return gone.map((key) => ({ op: 'remove' as const, path: `titles.${key}` }));
}

/** All keys at any depth, but for what lies at some paths. */
function keysIn(value: unknown, path: string, without: readonly string[]): ReadonlySet<string> {
  if (Array.isArray(value))
    return new Set(value.flatMap((one) => [...keysIn(one, `${path}.`, without)]));
  if (!isMapping(value)) return new Set();
  return new Set(
    Object.entries(value).flatMap(([key, one]) => {
      const own = path ? `${path}.${key}` : key;
      return without.includes(own) ? [] : [key, ...keysIn(one, own, without)];
    }),
  );
}
