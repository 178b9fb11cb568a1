/** The angles that matter, each beside those without which it says too little. */
import type { ConditionResult } from '../contract.ts';
import { angleWords, vanishingWords } from '../criteria.ts';
import { vanishing } from '../levers.ts';
import { number, signed } from '../numbers.ts';
import { plainWords } from '../words.ts';

interface Row {
  readonly name: string;
  readonly note?: string;
  readonly of: (boat: ConditionResult) => number | null;
  readonly words: (value: number | null) => string;
  /** Unit of the change and the step it is shown in, and how many go into one shown. */
  readonly change: readonly [string, number, number];
}

const DEGREES = ['°', 0.1, 1] as const;

function rowsOf(now: ConditionResult): readonly Row[] {
  const critical = now.critical_opening ? `through ${plainWords(now.critical_opening)}` : '';
  const angle = (name: string, of: Row['of'], note = ''): Row => ({
    name,
    note,
    of,
    words: (deg) => angleWords(deg),
    change: DEGREES,
  });
  const rights = (name: string, of: Row['of'], note = ''): Row => ({
    ...angle(name, of, note),
    words: vanishingWords,
  });
  return [
    rights('vanishing angle', (b) => b.vanishing_angle_deg, 'the smaller of both sides'),
    angle('range to downflooding', (b) => b.range_deg, 'up to whichever comes first'),
    rights('to port', (b) => vanishing(b, 'port')),
    rights('to starboard', (b) => vanishing(b, 'starboard')),
    rights('house not counted', (b) => b.vanishing_angle_without_house_deg),
    angle('downflooding', (b) => b.downflooding_angle_deg, `by area; ${critical}`),
    angle('all left open', (b) => b.downflooding_angle_all_open_deg, 'the same, nothing shut'),
    angle('deck edge', (b) => b.deck_edge_angle_deg),
    angle('cockpit coaming', (b) => b.coaming_angle_deg),
    {
      name: 'greatest lever',
      of: (b) => b.greatest_gz_m,
      words: (m) => (m === null ? 'none' : `${number(m, 0.001)} m`),
      change: [' mm', 1, 1000],
    },
    angle('at', (b) => b.greatest_gz_at_deg),
    ...areas(now),
    {
      name: 'roll period, rough',
      note: 'compare before and after only',
      of: (b) => b.roll_period_s?.[0] ?? null,
      words: (s) => (s === null ? 'none' : `${number(s, 0.1)} s`),
      change: [' s', 0.1, 1],
    },
  ];
}

function areas(now: ConditionResult): readonly Row[] {
  return Object.keys(now.area_under_gz ?? {})
    .filter((key) => /_deg_m_rad$/.test(key))
    .map((key) => ({
      name: `area ${plainWords(key.replace(/^from_|_deg_m_rad$/g, ''))}°`,
      of: (b) => b.area_under_gz?.[key] ?? null,
      words: (area) => (area === null ? 'none' : `${number(area, 0.001)} m rad`),
      change: [' m rad', 0.001, 1],
    }));
}

function changeWords({ of, change: [unit, step, per] }: Row, now: Both, before: Both): string {
  const [a, b] = [of(now), of(before)];
  if (a === null || b === null) return '—';
  const change = (a - b) * per;
  return Math.abs(change) < step / 2 ? 'none' : `${signed(change, step)}${unit}`;
}

type Both = ConditionResult;

export function Angles({ now, before }: { now: Both; before: Both | undefined }) {
  return (
    <table class="angles">
      <thead>
        <tr>
          <th scope="col">to {now.worse_side ?? 'either side'}, her worse side</th>
          <th scope="col" class="n">
            {before ? 'refit' : 'now'}
          </th>
          {before && (
            <>
              <th scope="col" class="n">
                as found
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
              {row.name} {row.note && <small>{row.note}</small>}
            </th>
            <td class="n">{row.words(row.of(now))}</td>
            {before && (
              <>
                <td class="n">{row.words(row.of(before))}</td>
                <td class="n">{changeWords(row, now, before)}</td>
              </>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
