/** The balance beam: where each weight of the changes stands along the boat, or hangs. */
import type { Assessment, ItemResult } from '../contract.ts';
import { countedOf } from '../shared/answer/effects.ts';
import { lastKey, plainWords } from '../shared/words/plain-words.ts';

/** One weight on the beam (new, or where a moved weight goes) or below it (taken off). */
interface BeamWeight {
  readonly key: string;
  readonly path: string;
  readonly change: string;
  readonly label: string;
  readonly kg: number;
  readonly x_m: number;
  readonly stands: boolean;
  /** Whether it is one end of a move. */
  readonly moved: boolean;
}

/** A weight's square in pixels: its middle along the beam, its nearer and farther edge from it. */
export interface PlacedWeight extends BeamWeight {
  readonly x: number;
  readonly size: number;
  readonly near: number;
  readonly far: number;
  /** Whether its name fits beyond it. */
  readonly named: boolean;
}

const LEAST_MOVE = 0.005;

/** The weights of a ledger; a part's includes its allowances. */
export const beamWeightsOf = ({
  items,
  parts,
}: Pick<Assessment, 'items' | 'parts'>): readonly BeamWeight[] =>
  items.flatMap((item): readonly BeamWeight[] => {
    if (item.role === 'allowance') return [];
    if (item.role === 'moved') return endsOfMove(item);
    const part = parts.find((one) => item.path === `changes.${one.change}.parts.${one.id}`);
    const kg = part ? countedOf(part) : item.mass_kg;
    const stands = item.role !== 'removed';
    return [{ ...namesOf(item), key: item.path, kg, x_m: item.at_m[0], stands, moved: false }];
  });

const namesOf = ({ path, change }: ItemResult) => ({
  path,
  change,
  label: plainWords(lastKey(path)),
});

/** A move hangs where it is taken from and stands where it goes; across the boat it is none here. */
function endsOfMove(item: ItemResult): readonly BeamWeight[] {
  const [from] = item.at_m;
  const [to] = item.to_m ?? item.at_m;
  if (Math.abs(to - from) < LEAST_MOVE) return [];
  const end = { ...namesOf(item), kg: item.mass_kg, moved: true };
  return [
    { ...end, key: `${item.path}:from`, x_m: from, stands: false },
    { ...end, key: `${item.path}:to`, x_m: to, stands: true },
  ];
}

const CHARACTER = 6.1;
const LABEL_HEIGHT = 12;
const LEAST_SIZE = 5;

interface Taken {
  readonly left: number;
  readonly right: number;
  readonly near: number;
  readonly far: number;
}

const clashes = (a: Taken, b: Taken) =>
  a.left < b.right && b.left < a.right && a.near < b.far && b.near < a.far;

/** Squares with areas as the masses, stacked outward from the beam where they would overlap. */
export function stacked(
  weights: readonly BeamWeight[],
  x: (metres: number) => number,
  largest: number,
): readonly PlacedWeight[] {
  const heaviest = Math.max(1, ...weights.map((c) => c.kg));
  const sides = [true, false].map((stands) =>
    oneSide(
      weights.filter((c) => c.stands === stands),
      x,
      largest / Math.sqrt(heaviest),
    ),
  );
  return sides.flat();
}

function oneSide(
  weights: readonly BeamWeight[],
  x: (metres: number) => number,
  perRoot: number,
): readonly PlacedWeight[] {
  const boxes: (Taken & { weight: BeamWeight; size: number })[] = [];
  for (const weight of weights.toSorted((a, b) => b.kg - a.kg)) {
    const size = Math.max(LEAST_SIZE, perRoot * Math.sqrt(weight.kg));
    const [left, right] = [x(weight.x_m) - size / 2, x(weight.x_m) + size / 2];
    const below = boxes.filter((b) => left < b.right - 0.5 && b.left < right - 0.5);
    const near = Math.max(0, ...below.map((b) => b.far));
    boxes.push({ weight, size, left, right, near, far: near + size });
  }
  const labels: Taken[] = [];
  return boxes.map(({ weight, size, far, near, left, right }) => {
    const half = Math.max(size, weight.label.length * CHARACTER) / 2;
    const middle = (left + right) / 2;
    const label = {
      left: middle - half,
      right: middle + half,
      near: far,
      far: far + LABEL_HEIGHT,
    };
    const named = ![...labels, ...boxes].some((other) => clashes(label, other));
    if (named) labels.push(label);
    return { ...weight, x: middle, size, near, far, named };
  });
}

/** How far the beam is tipped, in degrees, drawn larger than the change of trim but bounded. */
export const tilt = (trimChange_deg: number, times: number): number =>
  Math.max(-4, Math.min(4, trimChange_deg * times));
