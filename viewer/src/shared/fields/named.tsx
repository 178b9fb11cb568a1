/** Things with names of the owner's: listed, opened, added, copied, deleted. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { useBoat, useEditing, useKnown, useSnapshot } from '../../session/context.tsx';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { findingsAt } from '../answer/findings.ts';
import { at, mapping } from '../boat/document.ts';
import { SECTIONS, sectionOf } from '../boat/sections.ts';
import { Findings } from '../feedback/finding-list.tsx';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { count, freeKey, keyWords, plainWords, title } from '../words/plain-words.ts';
import { choicesFor, pointerAt } from './choices.ts';
import { WhenEditable } from './editing.tsx';
import type { NamedField } from './forms.ts';
import { NameField } from './name-field.tsx';
import { summaryOf } from './summary.ts';
import { UnsentForm } from './unsent.tsx';

/** What one of them is called. */
const NOUNS: Readonly<Record<string, string>> = {
  aboard: 'thing aboard',
  existing: 'part',
  plating: 'zone',
  taped: 'taped distance',
  read_again: 'point measured again',
  adds: 'added weight',
  removes: 'removed weight',
  moves: 'moved weight',
};
/** What a list of them is called where its key alone would not tell. */
const HEADINGS: Readonly<Record<string, string>> = {
  removes: 'comes off',
  parts: 'new steel',
  adds: 'goes on',
  moves: 'moves',
  taped: 'taped distances',
  read_again: 'points measured again',
  weights: 'known weights in her',
  aboard: 'aboard at the survey',
  compartments: 'watertight compartments',
  plating: 'plating by zone',
  layers: 'names of the layers',
};
const withArticle = (noun: string) => `${/^[aeiou]/.test(noun) ? 'an' : 'a'} ${noun}`;
const nounOf = (key: string, path: string) =>
  isOfOption(path) ? 'change' : (NOUNS[key] ?? keyWords(key).replace(/s$/, ''));
const headingOf = ({ key, label }: NamedField, path: string) =>
  title(isOfOption(path) ? 'changes it adds' : (HEADINGS[key] ?? label));
/** Whether they are the changes that an option adds. */
const isOfOption = (path: string) => /^options\.[^.]+\.adds$/.test(path);

interface Props {
  readonly field: NamedField;
  readonly value: unknown;
  readonly path: string;
  /** The form of one of them. */
  readonly body: (name: string) => ComponentChildren;
  readonly begin?: Begin | undefined;
}

/** What a new one can start from; called with the name of what was added. */
export type Begin = (done: (name: string) => void) => ComponentChildren;

export function Named({ field, value, path, body, begin }: Props) {
  const names = Object.keys(mapping(value));
  const [open, setOpen] = useState<string>();
  const [adding, setAdding] = useState(false);
  const noun = nounOf(field.key, path);
  const heading = headingOf(field, path);
  const done = (name: string | undefined) => {
    setAdding(false);
    setOpen(name);
  };
  return (
    <div class="named-list">
      {!isAlone(path) && <h3>{heading}</h3>}
      {!isAlone(path) && field.about !== heading.toLowerCase() && (
        <p class="about">{field.about}</p>
      )}
      {names.length === 0 && <p class="about">No {noun} yet.</p>}
      <ul>
        {names.map((name) => (
          <li key={name} class={open === name ? 'open' : ''} data-entry={`${path}.${name}`}>
            <Entry
              field={field}
              names={names}
              name={name}
              among={path}
              open={open === name}
              turn={() => setOpen(open === name ? undefined : name)}
            />
            {open === name && <div class="named-body">{body(name)}</div>}
          </li>
        ))}
      </ul>
      <WhenEditable>
        {adding ? (
          <>
            {begin?.(done)}
            <AddNamed field={field} path={path} noun={noun} taken={names} done={done} />
          </>
        ) : (
          <button type="button" onClick={() => setAdding(true)}>
            Add {withArticle(noun)}
          </button>
        )}
      </WhenEditable>
    </div>
  );
}

/** Whether it is all that its section has, whose heading then stands for it. */
function isAlone(path: string): boolean {
  const section = sectionOf(path);
  return section !== undefined && SECTIONS[section].paths.join() === path;
}

interface EntryProps {
  readonly field: NamedField;
  readonly names: readonly string[];
  readonly name: string;
  readonly among: string;
  readonly open: boolean;
  readonly turn: () => void;
}

/** Its name, which opens it, and what may be done with it. */
function Entry({ field, names, name, among, open, turn }: EntryProps) {
  const { working, document } = useBoat();
  const { session } = useEditing();
  const { grammar } = useKnown();
  const refused = reasonsAt(useSnapshot(), `${among}.${name}`);
  const path = `${among}.${name}`;
  const findings = findingsAt(working.assessment.findings, path);
  const isFixed = field.keys.length > 0 || pointerAt(grammar, path, true) !== undefined;
  const words = plainWords(name);
  const checks = count(findings.length, 'check');
  const copy = () => {
    let number = 2;
    while (names.includes(`${name}-${number}`)) number += 1;
    session.set(`${among}.${name}-${number}`, at(document, path), `${words} copied`);
  };
  return (
    <>
      <div class="named-head">
        <button type="button" class="quiet" aria-expanded={open} onClick={turn}>
          {title(name)} <small>{open ? '' : summaryOf(field.item, at(document, path))}</small>
        </button>
        {findings.length > 0 && !open && (
          <button type="button" class="quiet" aria-label={`${checks} of ${words}`} onClick={turn}>
            <small>{checks}</small>
          </button>
        )}
        <WhenEditable>
          {!isFixed && (
            <button type="button" class="quiet" aria-label={`Copy ${words}`} onClick={copy}>
              copy
            </button>
          )}
          <button
            type="button"
            class="quiet"
            aria-label={`Delete ${words}`}
            onClick={() => session.remove(path, words)}
          >
            delete
          </button>
        </WhenEditable>
      </div>
      {refused.map((sentence) => (
        <RefusalMessage key={sentence} words={sentence} />
      ))}
      <Findings findings={findings.filter((found) => open && found.place === path)} />
    </>
  );
}

interface AddNamedProps {
  readonly field: NamedField;
  readonly path: string;
  readonly noun: string;
  readonly taken: readonly string[];
  readonly done: (name: string | undefined) => void;
}

function AddNamed({ field, path, noun, taken, done }: AddNamedProps) {
  const { grammar } = useKnown();
  const { document } = useBoat();
  const { session } = useEditing();
  const pointer = pointerAt(grammar, `${path}.new`, true);
  const keys = pointer ? choicesFor(pointer, path, document) : field.keys;
  const isFixed = field.keys.length > 0 || pointer !== undefined;
  const free = keys.filter((key) => !taken.includes(key));
  const [name, setName] = useState(free[0] ?? '');
  const keyFor = (words: string) => freeKey(words, noun, (key) => taken.includes(key));
  const what = `new ${noun}${name ? ` ${plainWords(name)}` : ''}`;
  const send = async (value: unknown) => {
    if (taken.includes(name))
      return [`This name is already used for another ${noun}: choose another.`];
    if (!name) return [`Give the ${noun} a name with letters or digits.`];
    return session.add(`${path}.${name}`, value, what);
  };
  return (
    <UnsentForm
      field={{ ...field.item, label: noun }}
      path={`${path}.${name || 'new'}`}
      label={what}
      button={`Add the ${noun}`}
      send={send}
      done={() => done(name || undefined)}
    >
      {isFixed ? (
        <label class="choice">
          <span>{noun}</span>
          <select value={name} onChange={(e) => setName(e.currentTarget.value)}>
            {free.map((key) => (
              <option key={key} value={key}>
                {plainWords(key)}
              </option>
            ))}
          </select>
        </label>
      ) : (
        <NameField keyFor={keyFor} named={setName} />
      )}
    </UnsentForm>
  );
}
