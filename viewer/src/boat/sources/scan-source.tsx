/** Lines from a scan or point cloud: marks on the waterline, the foremost point, the chines. */
import { useState } from 'preact/hooks';
import type { LinesPreview } from '../../contract.ts';
import { useBoat } from '../../session/context.tsx';
import { scanLines, scanPoints } from '../../session/hull-sources-api.ts';
import type { Point } from '../../shared/boat/points.ts';
import { RefusalMessage } from '../../shared/feedback/refusal.tsx';
import { UnderWay } from '../../shared/feedback/under-way.tsx';
import { useAction } from '../../shared/feedback/use-action.ts';
import { useTakeBack } from '../../shared/feedback/use-take-back.tsx';
import { FileDrop } from '../../shared/files/file-drop.tsx';
import { number, numberTyped } from '../../shared/words/numbers.ts';
import { keyOf } from '../../shared/words/plain-words.ts';
import { CloudDrawing } from './cloud-drawing.tsx';
import { useKept } from './kept.ts';
import { Preview } from './preview.tsx';
import { UnitSelect } from './unit-select.tsx';

/** What is picked, and how many at most. */
const WATERLINE = 'waterline';
const BOW = 'foremost point';

type Picks = ReadonlyMap<string, readonly Point[]>;

/** A scan that was opened, and what is picked on it. */
interface OpenScan {
  readonly file?: File;
  readonly unit: string;
  readonly cloud?: readonly Point[];
  readonly picks: Picks;
}

const NO_SCAN: OpenScan = { unit: 'm', picks: new Map() };
const KEPT = new Map<string, OpenScan>();

export function ScanSource() {
  const { refit } = useBoat().working;
  const [scan, setScan] = useKept(KEPT, refit, NO_SCAN);
  const { file, unit, cloud, picks } = scan;
  const [preview, setPreview] = useState<LinesPreview>();
  const { busy, wrong, run, stop } = useAction();
  const load = (given: File, as: string) =>
    run(async (signal) => {
      const { points_m } = await scanPoints(refit, given, as, signal);
      setPreview(undefined);
      setScan({ file: given, unit: as, cloud: points_m, picks: new Map() });
    });
  const read = () =>
    file &&
    run(async (signal) => {
      setPreview(undefined);
      const chines = [...picks].filter(([name]) => name !== WATERLINE && name !== BOW);
      setPreview(
        await scanLines(
          refit,
          file,
          unit,
          {
            waterline_m: picks.get(WATERLINE) ?? [],
            bow_m: picks.get(BOW)?.[0] ?? null,
            chines: Object.fromEntries(chines.map(([name, at]) => [keyOf(name, 'chine'), at])),
          },
          signal,
        ),
      );
    });
  return (
    <div class="source">
      <p class="about">
        A scan of the bare hull, z roughly up. Pick at least four marks on her waterline: on both
        sides, forward and aft, and one where it meets the stem, where x begins. Her foremost point
        tells bow from stern; points along each chine keep it sharp. Type below any position you
        know more exactly. Stray points and gaps at the cradle are dealt with.
      </p>
      <UnitSelect
        unit={unit}
        set={(next) => {
          setScan({ ...scan, unit: next });
          if (file) void load(file, next);
        }}
        of={['m', 'cm', 'mm', 'ft', 'in']}
      />
      <FileDrop
        words="Drop an OBJ, PLY, STL or XYZ file here, or choose one:"
        accept=".obj,.ply,.stl,.xyz,.txt,.csv"
        take={(given) => void load(given, unit)}
      >
        {file && <small role="status">{file.name}</small>}
      </FileDrop>
      {cloud && (
        <PickOnCloud
          key={`${file?.name} ${unit}`}
          cloud={cloud}
          picks={picks}
          setPicks={(next) => setScan({ ...scan, picks: next })}
        />
      )}
      <button type="button" disabled={busy || !cloud} onClick={() => void read()}>
        Read the scan
      </button>{' '}
      {busy && <UnderWay words="Reading…" stop={stop} />}
      <RefusalMessage words={wrong} />
      {preview && <Preview preview={preview} note={file?.name ?? ''} />}
    </div>
  );
}

interface PickProps {
  readonly cloud: readonly Point[];
  readonly picks: Picks;
  readonly setPicks: (picks: Picks) => void;
}

function PickOnCloud({ cloud, picks, setPicks }: PickProps) {
  const [what, setWhat] = useState(WATERLINE);
  const [chine, setChine] = useState('');
  const names = [...new Set([WATERLINE, BOW, ...picks.keys(), what])];
  const pick = (at: Point) => {
    const had = what === BOW ? [] : (picks.get(what) ?? []);
    setPicks(new Map([...picks, [what, [...had, at]]]));
  };
  return (
    <>
      <fieldset class="segments">
        <legend>pick</legend>
        {names.map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={name === what}
            onClick={() => setWhat(name)}
          >
            {name} ({picks.get(name)?.length ?? 0})
          </button>
        ))}
      </fieldset>
      <p class="source-options">
        <label>
          another chine, named{' '}
          <input value={chine} onInput={(e) => setChine(e.currentTarget.value)} />
        </label>{' '}
        <button type="button" disabled={chine.trim() === ''} onClick={() => setWhat(chine.trim())}>
          Pick along it
        </button>
      </p>
      <CloudDrawing cloud={cloud} picks={picks} pick={pick} />
      {[...picks].map(([name, points]) => (
        <PickedPlaces
          key={name}
          name={name}
          points={points}
          set={(next) => setPicks(new Map([...picks, [name, next]]))}
        />
      ))}
    </>
  );
}

const NOWHERE: Point = [0, 0, 0];
const AXES = [0, 1, 2] as const;

interface PlacesProps {
  readonly name: string;
  readonly points: readonly Point[];
  readonly set: (points: readonly Point[]) => void;
}

/** What was picked, in the file's axes: typed where the place is known better than pressed. */
function PickedPlaces({ name, points, set }: PlacesProps) {
  const takeBack = useTakeBack(points, set);
  const put = (i: number, axis: 0 | 1 | 2, text: string) => {
    const value = numberTyped(text);
    const place: [number, number, number] = [...(points[i] ?? NOWHERE)];
    place[axis] = value;
    if (Number.isFinite(value)) set(points.with(i, place));
  };
  return (
    <>
      <ul>
        {points.map((point, i) => (
          <li key={i} class="source-options">
            {name} {i + 1}, m:{' '}
            {AXES.map((axis) => (
              <input
                key={axis}
                aria-label={`${name} ${i + 1}, ${'xyz'[axis]}`}
                value={number(point[axis], 0.001)}
                size={7}
                onChange={(e) => put(i, axis, e.currentTarget.value)}
              />
            ))}{' '}
            <button
              type="button"
              class="quiet"
              aria-label={`Leave out ${name} ${i + 1}`}
              onClick={() => takeBack.put(points.toSpliced(i, 1))}
            >
              leave out
            </button>
          </li>
        ))}
      </ul>
      {takeBack.line}
    </>
  );
}
