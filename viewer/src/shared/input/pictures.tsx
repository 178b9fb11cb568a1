/** How to measure it: small drawings. */

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
  deck: (
    <>
      <path class="strong" d="M14,70Q110,34 206,70" />
      <path class="thin" d="M14,70H206" stroke-dasharray="4 3" />
      <g class="dimension">
        <path d="M110,52V70M106,52h8M106,70h8" />
      </g>
      <text x="116" y="64">
        camber
      </text>
      <Dimension from={110} to={206} y={92} words="half-breadth there" />
      <text x="14" y="24">
        a straight batten across the deck
      </text>
    </>
  ),
  keel: (
    <>
      <path class="body" d="M4,20C60,44 150,44 216,20" />
      <path class="body" d="M70,37L96,96H156L152,36" />
      <path class="body" d="M182,31V82H204V25" />
      {['70,37', '96,96', '156,96', '182,82', '204,82'].map((at) => (
        <circle key={at} class="solid" cx={at.split(',')[0]} cy={at.split(',')[1]} r="2.5" />
      ))}
      <path class="body" d="M72,112C84,106 130,107 156,111L156,113C130,117 84,118 72,112Z" />
      <text x="4" y="74">
        corners, x and z
      </text>
      <text x="4" y="116">
        half thickness
      </text>
    </>
  ),
  height: (
    <>
      <path class="water" d="M4,78H216V118H4Z" />
      <path class="body" d="M108,66L120,94C134,104 162,102 176,90L186,60Z" />
      <path class="strong" d="M148,64V26" />
      <path class="thin" d="M148,26L158,62" />
      <rect class="solid" x="174" y="51" width="9" height="9" />
      <Dimension from={148} to={178} y={20} words="shifted by" />
      <text x="4" y="20">
        a weight shifted across;
      </text>
      <text x="4" y="32">
        the heel by plumb line
      </text>
      <text x="4" y="44">
        or water tube
      </text>
    </>
  ),
  existing: (
    <>
      <path class="strong" d="M10,78C70,86 150,86 212,76" />
      <path class="body" d="M62,83L80,48H142V84" />
      <path class="off" d="M142,58H186V100H142Z" />
      <Dimension from={62} to={142} y={100} words="length" />
      <g class="dimension">
        <path d="M152,48V58M148,48h8M148,58h8" />
        <path d="M52,48V82M48,48h8M48,82h8" />
      </g>
      <text x="6" y="66">
        height
      </text>
      <text x="124" y="115">
        depths of the well
      </text>
    </>
  ),
  tanks: (
    <>
      <path class="body" d={HULL} />
      <rect class="strong" x="84" y="66" width="48" height="22" />
      <path class="water" d="M85,76H131V87H85Z" />
      <Dimension from={84} to={132} y={108} words="inside: length, breadth, depth" />
      <text x="8" y="24">
        and litres: by the meter of the hose,
      </text>
      <text x="8" y="36">
        or bucket by bucket
      </text>
    </>
  ),
  openings: (
    <>
      <path class="strong" d="M10,88C70,96 150,96 212,84" />
      <rect class="body" x="80" y="62" width="46" height="28" />
      {['80,62', '126,62', '80,90', '126,90'].map((at) => (
        <circle key={at} class="solid" cx={at.split(',')[0]} cy={at.split(',')[1]} r="2.5" />
      ))}
      <Dimension from={10} to={80} y={50} words="x to the edge" />
      <text x="132" y="80">
        corners of its edge
      </text>
      <text x="10" y="20">
        what shuts it, where it leads
      </text>
    </>
  ),
  water: (
    <>
      <path class="water" d="M62,46H158V108H62Z" />
      <path class="strong" d="M58,30L64,110H156L162,30" />
      <path class="body" d="M104,18h12V74a9,9 0 1 1 -12,0Z" />
      <path class="thin" d="M104,26h5M104,32h5M104,38h5M104,44h5M104,50h5" />
      <path d="M62,46H104M116,46H158" />
      <path class="thin" d="M122,46L176,34" stroke-dasharray="3 3" />
      <text x="166" y="28">
        read here
      </text>
      <text x="4" y="18">
        hydrometer
      </text>
    </>
  ),
  list: (
    <>
      <path class="water" d="M4,82H216V118H4Z" />
      <path class="body" d="M42,50L56,82C90,108 134,104 172,72L180,38Z" />
      <path class="strong" d="M4,82H216" />
      <path d="M56,20V66C90,92 134,90 166,62V20" />
      <path class="thin" d="M46,40H176" stroke-dasharray="4 3" />
      <text x="8" y="34">
        level
      </text>
      <path class="thin" d="M56,46L166,35" />
      <g class="dimension">
        <path d="M184,36V40M180,36h8M180,40h8" />
      </g>
      <text x="70" y="16">
        hose with water, both ends open
      </text>
    </>
  ),
  rig: (
    <>
      <path class="strong" d="M96,104V10" />
      <path class="thin" d="M96,12L40,104M96,14L186,96" />
      <path class="body" d="M98,16L98,92L170,96Z" />
      <g class="dimension">
        <path d="M88,16V92M84,16h8M84,92h8" />
      </g>
      <text x="48" y="40">
        luff
      </text>
      <Dimension from={98} to={170} y={112} words="foot" />
    </>
  ),
} as const;

export type PictureName = keyof typeof DRAWINGS;

const TITLES: Readonly<Record<PictureName, string>> = {
  hull: 'Hull ashore: a plumb line from the sheer, a tape along and across',
  freeboards: 'Hull afloat: tape from the sheer to the water at three marks',
  'comes-off': 'A weight on a hook scale, its distance taped from a datum',
  'goes-on': 'A new weight on the beam, its centre taped from the same datum',
  deck: 'A batten across the deck: the camber in the middle, the half-breadth',
  keel: 'Keel and rudder from the side, their corners, and a level section',
  height: 'A weight shifted across the boat and the heel it gives',
  existing: 'House and well from the side, with their length and heights',
  tanks: 'A tank in the hull, measured inside, filled by litres',
  openings: 'A hatch on the deck, the corners of its edge',
  water: 'A hydrometer afloat in a bucket, read at the level of the water',
  list: 'A hose across the boat: the water stands level in both ends',
  rig: 'Mast and mainsail, luff and foot',
};

export function Picture({ name }: { name: PictureName }) {
  return (
    <svg class="picture" viewBox="0 0 220 120" role="img" aria-label={TITLES[name]}>
      {DRAWINGS[name]}
    </svg>
  );
}
