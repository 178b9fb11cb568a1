/** How to measure it: four small drawings. */
import type { StartStep } from '../session/start-steps.ts';

const Hook = ({ x, y }: { x: number; y: number }) => (
  <>
    <path d={`M${x},${y}v12`} />
    <circle cx={x} cy={y + 20} r="8" />
    <path d={`M${x},${y + 20}l4,-5M${x},${y + 28}v8`} />
  </>
);

const Dimension = ({
  from,
  to,
  y,
  words,
}: {
  from: number;
  to: number;
  y: number;
  words: string;
}) => (
  <g class="dimension">
    <path d={`M${from},${y}H${to}M${from},${y - 4}v8M${to},${y - 4}v8`} />
    <text x={(from + to) / 2} y={y - 4} text-anchor="middle">
      {words}
    </text>
  </g>
);

const HULL = 'M14,44L30,82C60,100 130,102 196,74L204,50C150,58 70,56 14,44Z';

const DRAWINGS = {
  hull: (
    <>
      <path class="ground" d="M4,116H216" />
      <path class="body" d={HULL} />
      <path d="M60,54V96M110,56V100M160,54V88" class="thin" />
      <path d="M110,28V116" class="thin" stroke-dasharray="4 3" />
      <path d="M106,112l4,-8 4,8z" class="solid" />
      <Dimension from={4} to={110} y={24} words="x from the stem" />
      <text x="116" y="80">
        height
      </text>
      <path d="M14,44C70,56 150,58 204,50" class="strong" />
      <text x="128" y="46">
        sheer, chines, keel
      </text>
    </>
  ),
  freeboards: (
    <>
      <path class="water" d="M4,80H216V118H4Z" />
      <path class="body" d={HULL} />
      <path class="strong" d="M4,80H216" />
      {[52, 112, 170].map((x, i) => (
        <g key={x} class="dimension">
          <path d={`M${x},${[51, 56, 54][i]}V80M${x - 4},${[51, 56, 54][i]}h8M${x - 4},80h8`} />
          <text x={x + 5} y="72">
            {['forward', 'midships', 'aft'][i]}
          </text>
        </g>
      ))}
      <text x="8" y="30">
        sheer straight down to the water,
      </text>
      <text x="8" y="42">
        both sides, in a calm
      </text>
      <text x="8" y="110">
        and the water's density
      </text>
    </>
  ),
  'comes-off': (
    <>
      <path class="ground" d="M4,112H216" />
      <Hook x={64} y={8} />
      <rect class="off" x="42" y="44" width="44" height="36" />
      <text x="80" y="32">
        hook scale, kg
      </text>
      <path class="thin" d="M176,36V112M170,36h12" />
      <text x="182" y="44">
        datum
      </text>
      <Dimension from={64} to={176} y={100} words="x from the datum" />
    </>
  ),
  'goes-on': (
    <>
      <path class="strong" d="M10,84H210" />
      <path class="solid" d="M112,85l8,13h-16z" />
      <rect class="body" x="142" y="50" width="34" height="34" />
      <rect class="off" x="52" y="84" width="24" height="24" />
      <text x="182" y="66">
        new
      </text>
      <text x="82" y="108">
        old
      </text>
      <path class="thin" d="M10,18V98" />
      <Dimension from={10} to={159} y={24} words="x to its centre; y and z too" />
      <path class="thin" d="M159,24V50" stroke-dasharray="3 3" />
    </>
  ),
} as const;

const TITLES: Readonly<Record<StartStep, string>> = {
  hull: 'Hull ashore: a plumb line from the sheer, a tape along and across',
  freeboards: 'Hull afloat: tape from the sheer to the water at three marks',
  'comes-off': 'A weight on a hook scale, its distance taped from a datum',
  'goes-on': 'A new weight on the beam, its centre taped from the same datum',
};

export function Picture({ step }: { step: StartStep }) {
  return (
    <svg class="picture" viewBox="0 0 220 120" role="img" aria-label={TITLES[step]}>
      {DRAWINGS[step]}
    </svg>
  );
}
