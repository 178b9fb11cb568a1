/** New steel: a form filled with what fits this hull, tried while it is changed, then added. */
import { useMemo, useState } from 'preact/hooks';
import type { Edit, PartKind, PartProposal, Problem } from '../../contract.ts';
import { useBoat, useEditing, useKnown, useRoute } from '../../session/context.tsx';
import type { PartPlace } from '../../session/proposals-api.ts';
import { at, type Mapping, mapping } from '../boat/document.ts';
import { RefusalMessage } from '../feedback/refusal.tsx';
import { misreadIn } from '../fields/field.tsx';
import { fieldOf, type WholeForm } from '../fields/field-values.ts';
import { Form } from '../fields/form.tsx';
import { FormRoot, FormSourceProvider, Offers } from '../fields/form-source.tsx';
import { fieldsOf } from '../fields/forms.ts';
import { NameField } from '../fields/name-field.tsx';
import { kilograms, placeWords } from '../words/numbers.ts';
import { freeKey, plainWords } from '../words/plain-words.ts';
import { reworded } from '../words/sentences.ts';
import { type TrialOutcome, usePartSource, useProposal, useTrial } from './part-draft.ts';

interface Props {
  readonly change: string;
  readonly done: () => void;
}

export function AddPart({ change, done }: Props) {
  const { kinds } = useKnown();
  const { working } = useBoat();
  const [kind, setKind] = useState(kinds[0]?.kind ?? '');
  const place = { refit: working.refit, option: working.option, change };
  const { found, trouble } = useProposal(place, kind);
  const chosen = kinds.find((k) => k.kind === kind);
  return (
    <form
      class="adding new-part"
      onSubmit={(event) => event.preventDefault()}
      aria-label="New steel"
    >
      <label>
        <span>what</span>
        <select value={kind} onChange={(e) => setKind(e.currentTarget.value)}>
          {kinds.map((k) => (
            <option key={k.kind} value={k.kind}>
              {k.title}
            </option>
          ))}
        </select>
      </label>
      {chosen && <p class="about">{reworded(chosen.about)}</p>}
      <RefusalMessage words={trouble} />
      {chosen && found ? (
        <NewPart key={kind} place={place} kind={chosen} proposal={found} done={done} />
      ) : (
        <>
          {!trouble && <p role="status">Fitting to the hull…</p>}
          <Leave done={done} />
        </>
      )}
    </form>
  );
}

const Leave = ({ done }: { done: () => void }) => (
  <button type="button" class="quiet" onClick={done}>
    cancel
  </button>
);

interface NewPartProps {
  readonly place: PartPlace;
  readonly kind: PartKind;
  readonly proposal: PartProposal;
  readonly done: () => void;
}

function NewPart({ place, kind, proposal, done }: NewPartProps) {
  const root = `changes.${place.change}.parts.${proposal.name}`;
  const fields = useMemo(() => fieldsOf(kind.parameters), [kind]);
  const [dimensions, setDimensions] = useState<Mapping | undefined>(
    proposal.dimensions ?? undefined,
  );
  const outcome = useTrial(place, proposal, dimensions);
  const proposed = proposal.dimensions ?? kind.example;
  const problem = outcome?.problem;
  const source = usePartSource({ root, proposed, dimensions, problem, setDimensions });
  const form = useMemo(() => ({ path: root, fields }), [root, fields]);
  return (
    <>
      <p class="proposed">
        {reworded(proposal.sentence)}
        {proposal.replaces && ` It replaces ${oldWords(proposal.replaces)}.`}
      </p>
      {dimensions === undefined ? (
        <span class="adding-do">
          <button type="button" onClick={() => setDimensions(kind.example)}>
            Enter its dimensions yourself
          </button>
          <Leave done={done} />
        </span>
      ) : (
        <FormSourceProvider value={source}>
          <div class="form">
            <Form path={root} fields={fields} />
          </div>
          <FormRoot {...form}>
            <Check outcome={outcome} form={form} blamed={source.blamed} value={dimensions} />
          </FormRoot>
          <Add {...{ place, proposal, dimensions, done }} />
        </FormSourceProvider>
      )}
    </>
  );
}

const oldWords = (path: string): string => plainWords(path.replace(/^existing\./, ''));

interface CheckProps {
  readonly outcome: TrialOutcome | undefined;
  readonly form: WholeForm;
  /** Path of the field at which a refusal stands. */
  readonly blamed: string;
  readonly value: Mapping;
}

/** Whether it builds, and what it weighs; a refusal stands at its field where it has one. */
function Check({ outcome, ...where }: CheckProps) {
  return (
    <div class="check" role="status">
      {outcome === undefined && <p>Trying it on this hull…</p>}
      {outcome?.trouble && <p class="refused">{outcome.trouble}</p>}
      {outcome?.built && (
        <p>
          It works: {kilograms(outcome.built.mass_kg)} of plates and bars, centre{' '}
          {placeWords(outcome.built.at_m)}.
        </p>
      )}
      {outcome?.built?.findings.map((sentence) => (
        <p key={sentence} class="about">
          {sentence}
        </p>
      ))}
      {outcome?.problem && <NotBuilt problem={outcome.problem} {...where} />}
    </div>
  );
}

interface NotBuiltProps extends Omit<CheckProps, 'outcome'> {
  readonly problem: Problem;
}

function NotBuilt({ problem, form, blamed, value }: NotBuiltProps) {
  const field = fieldOf(form, blamed);
  if (field) return <p>It does not work yet: see {field.label}.</p>;
  return (
    <>
      <p class="refused">
        {reworded(problem.faults.map((fault) => fault.sentence).join(' ') || problem.detail)}
      </p>
      <Offers offers={problem.offers} path={form.path} value={value} />
    </>
  );
}

interface AddedPartProps extends Omit<NewPartProps, 'kind'> {
  readonly dimensions: Mapping;
}

/** The step by which a change says which old part it replaces, where it does not yet. */
function replacing(document: Mapping, change: string, old: string): Edit['steps'] {
  const path = `changes.${change}.replaces`;
  const isSaid = old === '' || at(document, path) !== undefined;
  return isSaid ? [] : [{ op: 'set', path, value: old }];
}

/** Its name, and adding it; the change then says which old part it replaces. */
function Add({ place: { change }, proposal, dimensions, done }: AddedPartProps) {
  const { document } = useBoat();
  const { session } = useEditing();
  const { go } = useRoute();
  const [wrong, setWrong] = useState('');
  const isTaken = (key: string) =>
    Object.values(mapping(document.changes)).some((c) =>
      Object.hasOwn(mapping(mapping(c).parts), key),
    );
  const keyFor = (name: string) => freeKey(name, 'part', isTaken);
  const add = async (form: HTMLFormElement | null) => {
    const id = keyFor(String(new FormData(form ?? undefined).get('name') ?? ''));
    if (!id) return setWrong('Give it a name with letters or digits.');
    if (isTaken(id)) return setWrong('A part with this name already exists.');
    const why = await session.add(
      `changes.${change}.parts.${id}`,
      dimensions,
      `new steel ${plainWords(id)}`,
      replacing(document, change, proposal.replaces),
    );
    if (why.length > 0) return setWrong(why.join(' '));
    go({ picked: { change, part: id } });
    return done();
  };
  const addIfRead = (form: HTMLFormElement | null) => {
    const misread = misreadIn(form);
    return misread.length > 0 ? setWrong(misread.join(' ')) : void add(form);
  };
  return (
    <>
      <NameField keyFor={keyFor} proposed={plainWords(proposal.name)} />
      <span class="adding-do">
        <button type="button" onClick={(event) => addIfRead(event.currentTarget.form)}>
          Add
        </button>
        <Leave done={done} />
      </span>
      {wrong && (
        <p class="refused" role="alert">
          {wrong}
        </p>
      )}
    </>
  );
}
