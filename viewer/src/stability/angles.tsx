/** The angles that matter, each beside those without which it says too little. */
import type { ConditionResult, HeeledPlusMinus, SideAngles } from '../contract.ts';
import { angleWords, floodingWords, vanishingWords } from '../shared/answer/criteria.ts';
import { byWords, withSd } from '../shared/answer/uncertainty.ts';
import { at } from '../shared/boat/document.ts';
import { FILLED } from '../shared/boat/levers.ts';
import { ResultExplainButton } from '../shared/explain/result-explain-button.tsx';
import { TermOrName } from '../shared/explain/term.tsx';
import { isNothing, quantity, signedQuantity } from '../shared/words/numbers.ts';
import { plainWords } from '../shared/words/plain-words.ts';

interface AngleRow {
  readonly name: string;
  readonly note?: string;
  /** Its path below the boat. */
  readonly figure: string;
  /** The same below what has changed, where it is not called alike. */
  readonly changeFigure?: string;
  readonly of: (boat: ConditionResult) => number | null;
  readonly words: (value: number | null) => string;
  /** Unit of the change and the step it is shown in, and how many go into one shown. */
  readonly change: readonly [string, number, number];
  /** One standard deviation, where there is one. */
  readonly sd?: (spread: HeeledPlusMinus) => number | null;
}

const DEGREES = ['°', 0.1, 1] as const;

type Angle = Extract<keyof ConditionResult, `${string}_deg`>;

const WELLS_FULL: AngleRow = {
  name: FILLED,
  note: 'the smaller of both sides',
  figure: 'wells_full.vanishing_angle_deg',
  changeFigure: 'vanishing_angle_wells_full_deg',
  of: (boat) => boat.wells_full?.vanishing_angle_deg ?? null,
  words: (deg) => (deg === null ? 'none full' : vanishingWords(deg)),
  change: DEGREES,
};

const angle = (name: string, figure: Angle, note = '', sd?: AngleRow['sd']): AngleRow => ({
  name,
  note,
  figure,
  of: (boat) => boat[figure],
  words: (deg) => angleWords(deg),
  change: DEGREES,
  ...(sd ? { sd } : {}),
});

const rights = (...row: Parameters<typeof angle>): AngleRow => ({
  ...angle(...row),
  words: vanishingWords,
});

/** Which side an angle is reached to, where both are known. */
function sideReached(now: ConditionResult, figure: keyof SideAngles): string {
  const reached = Object.entries(now.sides ?? {}).find(
    ([, own]) => own[figure] !== null && own[figure] === now[figure],
  );
  return reached ? `to ${reached[0]}` : '';
}

const rowsOf = (now: ConditionResult): readonly AngleRow[] => [
  ...vanishingRows(now),
  ...floodingRows(now),
  ...immersionRows(now),
  {
    name: 'maximum GZ',
    figure: 'greatest_gz_m',
    of: (b) => b.greatest_gz_m,
    words: (m) => (m === null ? '—' : quantity(m, 'm', 0.001)),
    change: ['mm', 1, 1000],
    sd: (s) => s.greatest_gz_m,
  },
  angle('at', 'greatest_gz_at_deg'),
  ...areas(now),
  {
    name: 'roll period, rough',
    note: 'compare before and after only',
    figure: 'roll_period_s.0',
    changeFigure: 'roll_period_s',
    of: (b) => b.roll_period_s?.[0] ?? null,
    words: (s) => (s === null ? '—' : quantity(s, 's', 0.1)),
    change: ['s', 0.1, 1],
  },
];

const vanishingRows = (now: ConditionResult): readonly AngleRow[] => [
  rights(
    'angle of vanishing stability (AVS)',
    'vanishing_angle_deg',
    'the smaller of both sides',
    (s) => s.vanishing_angle_deg,
  ),
  angle('range', 'range_deg', 'to the first of AVS and unclosed opening', (s) => s.range_deg),
  rights('to port', 'vanishing_angle_port_deg'),
  rights('to starboard', 'vanishing_angle_starboard_deg'),
  rights('without deckhouse buoyancy', 'vanishing_angle_without_house_deg'),
  ...(now.wells_full ? [WELLS_FULL] : []),
];

function floodingRows(now: ConditionResult): readonly AngleRow[] {
  const critical = now.critical_opening ? plainWords(now.critical_opening) : '';
  const floods = (...row: Parameters<typeof angle>): AngleRow => ({
    ...angle(...row),
    words: (deg) => floodingWords(deg, now),
  });
  return [
    floods(
      'first unclosed opening',
      'downflooding_angle_deg',
      [critical, sideReached(now, 'downflooding_angle_deg')].filter(Boolean).join('; '),
      (s) => s.downflooding_angle_deg,
    ),
    floods(
      'boards out, hatches open',
      'downflooding_angle_in_use_deg',
      'first opening into the hull then',
    ),
    floods('all openings open', 'downflooding_angle_all_open_deg', 'wherever they lead'),
    floods('by area', 'downflooding_by_area_deg', 'UK sailing code’s own rule'),
  ];
}

const immersionRows = (now: ConditionResult): readonly AngleRow[] => [
  angle('deck edge', 'deck_edge_angle_deg', sideReached(now, 'deck_edge_angle_deg')),
  {
    ...angle('cockpit coaming', 'coaming_angle_deg', sideReached(now, 'coaming_angle_deg')),
    words: (deg) => angleWords(deg, now.wells_full ? 'full already' : 'not reached'),
  },
];

function areas(now: ConditionResult): readonly AngleRow[] {
  return Object.keys(now.area_under_gz ?? {})
    .filter((key) => /_deg_m_rad$/.test(key))
    .map((key) => ({
      name: `area ${plainWords(key.replace(/^from_|_deg_m_rad$/g, ''))}°`,
      figure: `area_under_gz.${key}`,
      of: (b) => b.area_under_gz?.[key] ?? null,
      words: (area) => (area === null ? '—' : quantity(area, 'm rad', 0.001)),
      change: ['m rad', 0.001, 1],
    }));
}

function valueWords({ of, words, change, sd }: AngleRow, boat: BoatOfAngles): string {
  const spread = boat.heeled_plus_minus;
  const own = spread && sd ? sd(spread) : null;
  return withSd(words(of(boat)), own === null ? null : own * change[2], change[0]);
}

/** How much a figure has changed; null where one of the boats has none. */
function changeOf(row: AngleRow, { change }: BoatOfAngles): number | null {
  const value = at(change?.heeled, row.changeFigure ?? row.figure);
  return typeof value === 'number' ? value : null;
}

function changeWords(row: AngleRow, now: BoatOfAngles): string {
  const [unit, step, per] = row.change;
  const changed = changeOf(row, now);
  if (changed === null) return '—';
  const change = changed * per;
  const words = isNothing(change, unit, step) ? 'unchanged' : signedQuantity(change, unit, step);
  const spread = now.change?.heeled?.plus_minus;
  const own = spread && row.sd ? row.sd(spread) : null;
  return withSd(words, own === null ? null : own * per, unit);
}

type BoatOfAngles = ConditionResult;
function Value({ row, boat }: { row: AngleRow; boat: ConditionResult }) {
  const words = valueWords(row, boat);
  if (row.of(boat) === null) return <>{words}</>;
  return (
    <ResultExplainButton boat={boat} name={row.name} figure={row.figure}>
      {words}
    </ResultExplainButton>
  );
}

function Change({ row, now }: { row: AngleRow; now: BoatOfAngles }) {
  const words = changeWords(row, now);
  if (changeOf(row, now) === null) return <>{words}</>;
  return (
    <ResultExplainButton
      boat={now}
      name={`Change of ${row.name}`}
      figure={`change.heeled.${row.changeFigure ?? row.figure}`}
    >
      {words}
    </ResultExplainButton>
  );
}

export function Angles({ now, before }: { now: BoatOfAngles; before: BoatOfAngles | undefined }) {
  return (
    <table class="angles">
      <thead>
        <tr>
          <th scope="col">to {now.worse_side ?? 'either side'}, her worse side</th>
          <th scope="col" class="n">
            {before ? 'refit' : 'now'}
            {byWords(now.heeled_plus_minus)}
          </th>
          {before && (
            <>
              <th scope="col" class="n">
                as found
                {byWords(before.heeled_plus_minus)}
              </th>
              <th scope="col" class="n">
                change
              </th>
            </>
          )}
        </tr>
      </thead>
      <tbody>
        {rowsOf(now).map((row) => (
          <tr key={row.name}>
            <th scope="row">
              <TermOrName name={row.name} /> {row.note && <small>{row.note}</small>}
            </th>
            <td class="n">
              <Value row={row} boat={now} />
            </td>
            {before && (
              <>
                <td class="n">
                  <Value row={row} boat={before} />
                </td>
                <td class="n">
                  <Change row={row} now={now} />
                </td>
              </>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
