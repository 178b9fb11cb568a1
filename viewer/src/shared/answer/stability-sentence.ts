/** What she can take and what limits it, in plain sentences: the first thing on the page. */
import type { ConditionResult, OpeningResult } from '../../contract.ts';
import { upturned } from '../boat/side-view.ts';
import { GM_STEP, gmStep, heelWords, isNothing, quantity } from '../words/numbers.ts';
import { count } from '../words/plain-words.ts';
import { openingWords } from './criteria.ts';
import { type JudgedRows, tallied } from './criteria-groups.ts';

const deg = (angle: number) => quantity(angle, '°', 1);

/** How she rights herself, how water comes in, her GM, and what of the criteria is open. */
export function stabilitySentences(
  now: ConditionResult,
  before: ConditionResult | undefined,
  judged: readonly JudgedRows[],
): readonly string[] {
  return [rightsWords(now), floodsFirstWords(now), gmSentence(now, before), judgedWords(judged)];
}

/** Up to which heel she rights herself, or why she does not. */
export function rightsWords(now: ConditionResult): string {
  const angle = now.vanishing_angle_deg;
  if (angle === null) return 'How far she rights herself is not known.';
  if (upturned(now)) return 'She capsizes and comes to rest upside down.';
  const side = sideWords(now);
  const from = now.gm_m < 0 ? lollWords(now) : '';
  if (angle <= 0) return `${from}She does not right herself from any heel.`;
  const less = withoutHouseWords(angle, now.vanishing_angle_without_house_deg);
  if (angle >= 180) return `${from}She rights herself from every heel${less}.`;
  return `${from}She rights herself up to ${deg(angle)}${side}${less}.`;
}

/** What is left where the deckhouse does not keep the sea out, if that is less. */
function withoutHouseWords(angle: number, without: number | null): string {
  if (without === null || without >= angle || deg(without) === deg(angle)) return '';
  const range = without > 0 ? `up to ${deg(without)}` : 'from no heel';
  return `; without deckhouse buoyancy ${range}`;
}

/** Which side, where they differ by what is shown; her worse side is that of the smaller levers. */
function sideWords({ vanishing_angle_port_deg: p, vanishing_angle_starboard_deg: s }: LeverAngles) {
  const [port, starboard] = [p ?? 0, s ?? 0];
  if (deg(port) === deg(starboard)) return '';
  return port < starboard ? ' to port, further to starboard' : ' to starboard, further to port';
}
type LeverAngles = Pick<
  ConditionResult,
  'vanishing_angle_port_deg' | 'vanishing_angle_starboard_deg'
>;

const lollWords = ({ heel_deg }: ConditionResult) =>
  isNothing(heel_deg, '°', 0.1)
    ? 'She does not stand upright: her GM is negative. '
    : `She lolls: upright she is unstable, and she rests ${heelWords(heel_deg, 0.1)}. `;

/** Where water comes in first, and where through what nothing shuts. */
export function floodsFirstWords(now: ConditionResult): string {
  if (now.openings.length === 0)
    return 'No openings are entered, so the heel at which water comes in is to be confirmed.';
  const first = firstUnder(now);
  if (!first) return 'No opening goes under at any heel.';
  const at = `Water can come in at ${deg(first.immersion_angle_deg)} through the ${openingWords(first)}`;
  if (first.stands_open) return `${at}, which nothing closes.`;
  return `${at}, if left open; ${unclosedWords(now)}.`;
}

function unclosedWords(now: ConditionResult): string {
  const { downflooding_angle_deg: angle, critical_opening: id, critical_side: side } = now;
  const opening = now.openings.find((one) => one.id === id && (side === null || one.side === side));
  if (angle === null) return 'no opening without a closing leads into the hull and goes under';
  return `at ${deg(angle)} through ${opening ? `the ${openingWords(opening)}` : 'an opening'}, which nothing closes`;
}

/** The opening that goes under at the smallest heel to either side. */
const firstUnder = ({
  openings,
}: Pick<ConditionResult, 'openings'>):
  | (OpeningResult & { immersion_angle_deg: number })
  | undefined =>
  openings
    .flatMap((one) =>
      one.immersion_angle_deg === null
        ? []
        : [{ ...one, immersion_angle_deg: one.immersion_angle_deg }],
    )
    .toSorted((a, b) => a.immersion_angle_deg - b.immersion_angle_deg)[0];

function gmSentence(now: ConditionResult, before: ConditionResult | undefined): string {
  const gm = `GM ${quantity(now.gm_m, 'm', gmStep(now.gm_m))}`;
  const change = before && now.change?.gm_m;
  if (change === null || change === undefined) return `${gm}.`;
  if (isNothing(change, 'm', GM_STEP)) return `${gm}, unchanged.`;
  return `${gm}, ${quantity(Math.abs(change), 'm', GM_STEP)} ${change < 0 ? 'less' : 'more'} than as found.`;
}

/** How many criteria are missed, in doubt and open; what is met is not praised. */
export function judgedWords(judged: readonly JudgedRows[]): string {
  if (judged.length === 0) return 'No criterion is judged: that needs levers up to 90°.';
  const { missed, metInDoubt, unmetInDoubt, open } = tallied(judged);
  const of = missed.filter((one) => one.cockpit).length;
  const parts = [
    `${missed.length > 0 ? count(missed.length, 'criterion', 'criteria') : 'No criterion'} ${unmetInDoubt.length > 0 ? 'clearly ' : ''}missed${of > 0 ? ` (${of} of the cockpit)` : ''}`,
    ...(unmetInDoubt.length > 0 ? [`${unmetInDoubt.length} not met within doubt`] : []),
    ...(metInDoubt.length > 0 ? [`${metInDoubt.length} met within doubt`] : []),
    ...(open.length > 0 ? [`${open.length} to be confirmed`] : []),
  ];
  return `${parts.join(', ')}, of ${judged.length}.`;
}
