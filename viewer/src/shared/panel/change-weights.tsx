/** The weights of a change; those that may lie elsewhere are slid along the boat. */
import { useBoat, useEditing, useSnapshot } from '../../session/context.tsx';
import { reasonsAt } from '../../session/working-copy/snapshot.ts';
import { at } from '../boat/document.ts';
import { type LedgerLine, ROLE_WORDS, sectionsOf } from '../boat/ledger.ts';
import { ExplainButton } from '../explain/explain-button.tsx';
import { Trim } from '../feedback/wedge.tsx';
import { NumberInput } from '../fields/field.tsx';
import { numberField } from '../fields/field-numbers.ts';
import type { NumberField } from '../fields/forms.ts';
import { amount, kilograms, quantity } from '../words/numbers.ts';

export function ChangeWeights({ change }: { change: string }) {
  const { working } = useBoat();
  const section = sectionsOf(working.assessment).find((s) => s.change.id === change);
  const rows = (section?.rows ?? []).filter(
    ({ item }) => item.role !== 'part' && item.role !== 'allowance',
  );
  if (rows.length === 0) return null;
  const sliding = rows.filter((row) => row.item.may_lie_x_m !== null);
  return (
    <>
      {sliding.map((row) => (
        <Sliding key={row.path} row={row} />
      ))}
      <h3>Weights</h3>
      <ul class="change-weights">
        {rows.map((row) => (
          <WeightLine key={row.item.path} row={row} />
        ))}
      </ul>
    </>
  );
}

function WeightLine({ row: { item, name } }: { row: LedgerLine }) {
  const { effects, scales } = useBoat();
  const effect = item.effect ?? effects.get(item.path);
  return (
    <li>
      <b>{name}</b> {ROLE_WORDS[item.role]},{' '}
      <ExplainButton explained={{ title: `${name}, mass`, path: `items.${item.path}.mass_kg` }}>
        {kilograms(item.mass_kg)}
      </ExplainButton>{' '}
      {effect && (
        <small>
          <ExplainButton
            explained={{
              title: `Effect of ${name.toLowerCase()} on trim`,
              path: `items.${item.path}.effect.trim_mm`,
            }}
          >
            <Trim mm={effect.trim_mm} top={scales.trimTop} />
          </ExplainButton>
        </small>
      )}
    </li>
  );
}

/** Where along the boat a weight lies, within its reach. */
function Sliding({ row }: { row: LedgerLine }) {
  const { document, original } = useBoat();
  const { session } = useEditing();
  const snapshot = useSnapshot();
  const path = `${row.path}.${row.item.role === 'moved' ? 'to_m' : 'at_m'}`;
  const current = snapshot.drafts.get(path)?.value ?? at(document, path);
  if (!Array.isArray(current) || typeof current[0] !== 'number') return null;
  const first = at(original, path);
  const field = reachOf(row);
  return (
    <div class="field-at" data-path={path}>
      <NumberInput
        field={field}
        value={current[0]}
        original={Array.isArray(first) && typeof first[0] === 'number' ? first[0] : undefined}
        refused={reasonsAt(snapshot, path)}
        change={(x, gesture) =>
          session.set(path, current.with(0, x), `${row.name} at ${quantity(x, 'm', 0.01)}`, gesture)
        }
        forget={() => session.forget(path)}
      />
    </div>
  );
}

function reachOf(row: LedgerLine): NumberField {
  const [low, high] = row.item.may_lie_x_m ?? [0, 0];
  const reach = `from ${amount(low, 'm', 0.1)} to ${quantity(high, 'm', 0.1)} aft`;
  const about = `${kilograms(row.item.mass_kg)}, may be placed ${reach}`;
  const label = `${row.name}, fore-and-aft position`;
  return numberField(label, { key: 'x', about, low, high, step: 0.05, slider: true });
}
