/** The main dimensions a first guess is made from. */
import type { FirstNumbers, NineDimensions } from '../../contract.ts';
import { quantityIn, ShortInput } from '../fields/short-input.tsx';
import { NUMBER_WANTED } from '../words/numbers.ts';

const HULL_TYPES: readonly (readonly [FirstNumbers['hull_type'], string])[] = [
  ['single-chine', 'single chine'],
  ['multi-chine', 'two chines or more'],
  ['round', 'round bilge'],
  ['canoe-stern', 'chines and a pointed stern'],
];
const KEELS: readonly (readonly [FirstNumbers['keel'], string])[] = [
  ['fin', 'fin keel'],
  ['long', 'long keel'],
  ['twin', 'twin keels'],
];

const LENGTHS = [
  ['length_m', 'length over all'],
  ['waterline_m', 'length of the waterline'],
  ['beam_m', 'greatest beam'],
] as const;
const HEIGHTS = [
  ['freeboard_forward_m', 'freeboard at the stem'],
  ['freeboard_least_m', 'least freeboard'],
  ['freeboard_aft_m', 'freeboard at the stern'],
  ['transom_m', 'breadth of the transom at the deck', '(0 if pointed)'],
] as const;
const OF_THE_HULL = [
  ...LENGTHS,
  ['displacement_kg', 'displacement without keel and rudder'],
  ...HEIGHTS,
] as const;
const OF_THE_BOAT = [
  ...LENGTHS,
  ['displacement_kg', 'displacement as she floats'],
  ['draught_m', 'draught'],
  ...HEIGHTS,
] as const;

type Labels = readonly (readonly [name: string, label: string, after?: string])[];

/** The unit that a dimension's name ends in. */
const unitOf = (name: string) => (name.endsWith('_kg') ? 'kg' : 'm');
const sizeIn = (data: FormData, name: string) => quantityIn(data, name, unitOf(name));

function Choice({ name, label, choices }: { name: string; label: string; choices: Labels }) {
  return (
    <label>
      <span>{label}</span>
      <select name={name}>
        {choices.map(([key, words]) => (
          <option key={key} value={key}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

const Numbers = ({ fields }: { fields: Labels }) => (
  <>
    {fields.map(([name, label, after = '']) => (
      <ShortInput key={name} {...{ name, label, after }} unit={unitOf(name)} isRequired={false} />
    ))}
  </>
);

/** The inputs of a hull's main dimensions, and of a whole boat's. */
export const HullDimensions = () => (
  <>
    <Choice name="hull_type" label="type of hull" choices={HULL_TYPES} />
    <Numbers fields={OF_THE_HULL} />
  </>
);
export const BoatDimensions = () => (
  <>
    <Choice name="hull_type" label="type of hull" choices={HULL_TYPES} />
    <Choice name="keel" label="keel" choices={KEELS} />
    <Numbers fields={OF_THE_BOAT} />
  </>
);

interface Read<T> {
  readonly given?: T;
  /** What is still to be filled in. */
  readonly trouble: string;
}

function read(data: FormData, fields: Labels) {
  const missing = fields.filter(([name]) => !Number.isFinite(sizeIn(data, name)));
  const labels = missing.map(([, label]) => label);
  return {
    trouble:
      labels.length === 0 ? '' : `Still to fill in: ${labels.join('; ')}. Type ${NUMBER_WANTED}.`,
  };
}

const hullIn = (data: FormData): NineDimensions => ({
  hull_type: HULL_TYPES.find(([one]) => one === data.get('hull_type'))?.[0] ?? 'single-chine',
  length_m: sizeIn(data, 'length_m'),
  waterline_m: sizeIn(data, 'waterline_m'),
  beam_m: sizeIn(data, 'beam_m'),
  displacement_kg: sizeIn(data, 'displacement_kg'),
  water_density_kg_m3: 1025,
  freeboard_forward_m: sizeIn(data, 'freeboard_forward_m'),
  freeboard_least_m: sizeIn(data, 'freeboard_least_m'),
  freeboard_aft_m: sizeIn(data, 'freeboard_aft_m'),
  transom_m: sizeIn(data, 'transom_m'),
});

/** The main dimensions of a hull, as a form has them. */
export function hullDimensionsIn(data: FormData): Read<NineDimensions> {
  const found = read(data, OF_THE_HULL);
  return found.trouble ? found : { ...found, given: hullIn(data) };
}

/** The main dimensions of a whole boat. */
export function boatDimensionsIn(data: FormData): Read<FirstNumbers> {
  const found = read(data, OF_THE_BOAT);
  if (found.trouble) return found;
  const keel = KEELS.find(([one]) => one === data.get('keel'))?.[0] ?? 'fin';
  return { ...found, given: { ...hullIn(data), draught_m: sizeIn(data, 'draught_m'), keel } };
}
