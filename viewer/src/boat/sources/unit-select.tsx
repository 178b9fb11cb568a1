/** The unit of numbers that state none. */
const UNITS: Readonly<Record<string, string>> = {
  '': 'as stated in the table',
  m: 'metres',
  cm: 'centimetres',
  mm: 'millimetres',
  ft: 'feet',
  in: 'inches',
  'ft-in-8': 'feet-inches-eighths, as 5-10-3',
};

interface Props {
  readonly unit: string;
  readonly set: (unit: string) => void;
  /** Units there are to choose from; all where left out. */
  readonly of?: readonly string[];
}

export const UnitSelect = ({ unit, set, of = Object.keys(UNITS) }: Props) => (
  <label>
    unit{' '}
    <select value={unit} onChange={(e) => set(e.currentTarget.value)}>
      {of.map((key) => (
        <option key={key} value={key}>
          {UNITS[key] ?? key}
        </option>
      ))}
    </select>
  </label>
);
