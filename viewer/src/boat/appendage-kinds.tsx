/** Keels, skegs and rudders to begin from: each drawn under her own lines, put in with one press. */
import { useEffect, useState } from 'preact/hooks';
import type { AppendageProposal } from '../contract.ts';
import { useBoat, useEditing } from '../session/context.tsx';
import { appendageProposals } from '../session/proposals-api.ts';
import { whyNot } from '../session/review-store.ts';
import { assumedIn, isAssumed } from '../shared/boat/assumed.ts';
import { type Mapping, mapping, numberOr } from '../shared/boat/document.ts';
import { linesOf } from '../shared/boat/hull-lines.ts';
import type { FlatPoint, Point } from '../shared/boat/points.ts';
import { RefusalMessage } from '../shared/feedback/refusal.tsx';
import { reworded } from '../shared/words/sentences.ts';
import { flatPoints } from './side-drawing.tsx';

const PATH = 'hull.appendages';

export function AppendageKinds({ done }: { done: (name: string) => void }) {
  const { working, document } = useBoat();
  const { session } = useEditing();
  const { kinds, trouble } = useAppendageKinds(working.refit, working.option);
  const [wrong, setWrong] = useState('');
  const put = async ({ title, appendages }: AppendageProposal) => {
    const why = await session.attempt(
      stepsOf(document, appendages),
      `${title.toLowerCase()} added`,
    );
    const [name] = Object.keys(appendages);
    if (why.length === 0 && name !== undefined) done(name);
    else setWrong(why.join(' '));
  };
  return (
    <div class="appendage-kinds">
      <p class="about">
        Start with one drawn under her lines in typical proportions, then drag its points to match
        yours. It counts as assumed until you change it.
      </p>
      <RefusalMessage words={trouble || wrong} />
      {!kinds && !trouble && <p role="status">Fitting to the hull…</p>}
      <ul>
        {kinds?.map((one) => (
          <li key={one.kind}>
            <Kind document={document} one={one} put={() => void put(one)} />
          </li>
        ))}
      </ul>
      <p class="about">Or enter it yourself:</p>
    </div>
  );
}

function useAppendageKinds(refit: string, option: string | null) {
  const [kinds, setKinds] = useState<readonly AppendageProposal[]>();
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    const leaving = new AbortController();
    appendageProposals({ refit, option }, leaving.signal).then(setKinds, (error) => {
      if (!leaving.signal.aborted) setTrouble(whyNot(error));
    });
    return () => leaving.abort();
  }, [refit, option]);
  return { kinds, trouble };
}

/** The steps that put appendages in and list them as assumed. */
function stepsOf(document: Mapping, appendages: AppendageProposal['appendages']) {
  const assumed = assumedIn(document);
  const paths = Object.keys(appendages).map((name) => `${PATH}.${name}`);
  const more = paths.filter((path) => !isAssumed(path, assumed));
  return [
    ...Object.entries(appendages).map(
      ([name, value]) => ({ op: 'set', path: `${PATH}.${name}`, value }) as const,
    ),
    { op: 'set', path: 'assumed', value: [...assumed, ...more] } as const,
  ];
}

interface KindProps {
  readonly document: Mapping;
  readonly one: AppendageProposal;
  readonly put: () => void;
}

function Kind({ document, one, put }: KindProps) {
  const given = Object.values(one.appendages).map(drawn);
  return (
    <button type="button" disabled={!one.fits} onClick={put} title={reworded(one.sentence)}>
      <KindPicture document={document} given={given} />
      <span>{one.title}</span>
      {!one.fits && <small>{reworded(one.sentence)}</small>}
    </button>
  );
}

interface DrawnAppendage {
  readonly outline: readonly FlatPoint[];
  readonly y: number;
  readonly cant: number;
  readonly pair: boolean;
}

const drawn = (given: unknown): DrawnAppendage => {
  const { outline_m, at_y_m, cant_deg, pair } = mapping(given);
  return {
    outline: flatPoints(outline_m),
    y: numberOr(at_y_m, 0),
    cant: numberOr(cant_deg, 0),
    pair: pair === true,
  };
};

/** From the side; of a pair from astern too. */
function KindPicture({
  document,
  given,
}: Pick<KindProps, 'document'> & { given: DrawnAppendage[] }) {
  const lines = linesOf(document).map(({ points }) => points);
  const all = [...lines.flat().map(([x, , z]): FlatPoint => [x, z]), ...given.flatMap(outlineOf)];
  const xs = all.map(([x]) => x);
  const zs = all.map(([, z]) => z);
  const [left, top] = [Math.min(...xs), Math.max(...zs)];
  const width = Math.max(...xs) - left;
  const pair = given.find((one) => one.pair);
  return (
    <svg
      viewBox={`${left - 0.3} ${-top - 0.3} ${width + 0.6} ${Math.max(0.3 * width, top - Math.min(...zs)) + 0.6}`}
      aria-hidden="true"
    >
      {lines.map((points, i) => (
        <path key={i} d={path(points.map(([x, , z]) => [x, z]))} />
      ))}
      {given.map(({ outline }, i) => (
        <path key={i} class="own" d={path(outline)} />
      ))}
      {pair && (
        <FromAstern lines={lines} pair={pair} at={left + aside(pair, left, width) * width} />
      )}
    </svg>
  );
}

/** Where along the picture there is room beside a pair. */
const aside = ({ outline }: DrawnAppendage, left: number, width: number): number =>
  outline.some(([x]) => x > left + 0.7 * width) ? 0.4 : 0.8;

const outlineOf = ({ outline }: DrawnAppendage) => outline;

const path = (points: readonly FlatPoint[]) =>
  `M${points.map(([x, z]) => `${x.toFixed(2)},${(-z).toFixed(2)}`).join('L')}`;

/** The section that a pair stands under, both sides. */
function FromAstern({
  lines,
  pair,
  at,
}: {
  lines: readonly (readonly Point[])[];
  pair: DrawnAppendage;
  at: number;
}) {
  const xs = pair.outline.map(([x]) => x);
  const zs = pair.outline.map(([, z]) => z);
  const middle = (Math.min(...xs) + Math.max(...xs)) / 2;
  const section = lines.flatMap((points) => breadthAt(points, middle));
  const root = Math.max(...zs);
  const lean = (root - Math.min(...zs)) * Math.tan((pair.cant * Math.PI) / 180);
  return [1, -1].map((side) => (
    <g key={side}>
      <path d={path(section.map(([y, z]) => [at + side * y, z]))} />
      <path
        class="own"
        d={path([
          [at + side * pair.y, root],
          [at + side * (pair.y + lean), Math.min(...zs)],
        ])}
      />
    </g>
  ));
}

/** Half-breadth and height of a line at x [m]; nothing beyond its ends. */
function breadthAt(points: readonly Point[], x: number): readonly FlatPoint[] {
  const i = points.findIndex(([at]) => at >= x);
  const after = points[i];
  const before = points[i - 1];
  if (!(after && before)) return [];
  const share = (x - before[0]) / (after[0] - before[0] || 1);
  return [[before[1] + share * (after[1] - before[1]), before[2] + share * (after[2] - before[2])]];
}
