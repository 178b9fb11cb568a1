/** The design's measures for those who build the pages: every token as it is, contrast measured. */
import { useMemo } from 'preact/hooks';
import { contrast, FILL_CONTRAST, TEXT_CONTRAST } from '../../shared/colour/contrast.ts';
import { measureColour } from '../../shared/colour/paint.ts';
import { TrimBar } from '../../shared/feedback/wedge.tsx';
import { number } from '../../shared/words/numbers.ts';
import { breakpoints, type LiveToken, liveTokens, tokenNames } from './live-tokens.ts';

/** Its name in the address. */
export const DESIGN = 'design-measures';

/** Tokens by what their names begin with; what begins otherwise is a colour. */
const KINDS = [
  'text',
  'measure',
  'space',
  'rule',
  'stroke',
  'target',
  'motion',
  'corner',
  'hatching',
] as const;
type TokenKind = (typeof KINDS)[number];

const isOf = (kind: TokenKind) => (name: string) => name.startsWith(`--${kind}`);

export function DesignMeasures() {
  const names = useMemo(tokenNames, []);
  const of = (kind: TokenKind) => liveTokens(names.filter(isOf(kind)), false);
  const colours = names.filter((name) => !KINDS.some((kind) => isOf(kind)(name)));
  return (
    <div class="page guide design">
      <h2>The design’s measures</h2>
      <p class="lead">
        Read from the style sheets of this page as they stand (tokens.css is where they are set).
        Contrast is measured on the paper of the same theme; words need {TEXT_CONTRAST} and fills
        that say something {FILL_CONTRAST}.
      </p>
      <Colours tokens={liveTokens(colours, true)} />
      <Effects />
      <Sizes of="text" title="Sizes of type" tokens={of('text')} />
      <Sizes of="measure" title="Length of a line" tokens={of('measure')} />
      <Sizes of="space" title="Spaces" tokens={of('space')} />
      <Sizes of="rule" title="Lines of the page" tokens={of('rule')} />
      <Sizes of="stroke" title="Lines of a drawing" tokens={of('stroke')} />
      <Sizes of="target" title="Targets" tokens={of('target')} />
      <Sizes
        of="motion"
        title="Motion (none if the system asks for reduced motion)"
        tokens={of('motion')}
      />
      <h3>Breakpoints</h3>
      <p>{breakpoints().join(', ')} px</p>
    </div>
  );
}

/** None of what is seen through: its contrast is that of what lies below. */
const ratioWords = (a: string, b: string) =>
  a.startsWith('rgba') ? '' : number(contrast(a, b), 0.1);

function Colours({ tokens }: { tokens: readonly LiveToken[] }) {
  const paper = tokens.find(({ name }) => name === '--paper');
  return (
    <>
      <h3>Colours</h3>
      <div class="scrolls">
        <table>
          <thead>
            <tr>
              <th scope="col">name</th>
              <th scope="col">light</th>
              <th scope="col">contrast</th>
              <th scope="col">dark</th>
              <th scope="col">contrast</th>
            </tr>
          </thead>
          <tbody>
            {tokens.map(({ name, light, dark }) => (
              <tr key={name}>
                <th scope="row">
                  <code>{name}</code>
                </th>
                <td>
                  <Swatch colour={light} /> {light}
                </td>
                <td class="n">{paper && ratioWords(light, paper.light)}</td>
                <td>
                  <Swatch colour={dark} /> {dark}
                </td>
                <td class="n">{paper && ratioWords(dark, paper.dark)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

const Swatch = ({ colour }: { colour: string }) => (
  <span class="swatch" style={{ background: colour }} />
);

const EFFECTS = [
  ['trim', 'by the bow', 'by the stern'],
  ['gm', 'less', 'more'],
] as const;
const TOP_MM = 50;

/** The ends of the scales of effects, against both papers and one another. */
function Effects() {
  const [paper] = liveTokens(['--paper'], true);
  if (!paper) return null;
  return (
    <>
      <h3>Effects</h3>
      <ul>
        {EFFECTS.map(([name, less, more]) => {
          const [low, high] = [measureColour(name, -1, 1), measureColour(name, 1, 1)];
          const words = (colour: string) =>
            `${colour}, ${ratioWords(colour, paper.light)} on light, ${ratioWords(colour, paper.dark)} on dark`;
          return (
            <li key={name}>
              <Swatch colour={low} /> {less}: {words(low)}. <Swatch colour={high} /> {more}:{' '}
              {words(high)}. Each against the other {ratioWords(low, high)}: too near in grey, so
              the first is hatched.
            </li>
          );
        })}
      </ul>
      <div class="trim-examples">
        <TrimBar mm={-0.7 * TOP_MM} top={TOP_MM} />
        <TrimBar mm={0.7 * TOP_MM} top={TOP_MM} />
      </div>
    </>
  );
}

interface SizesProps {
  readonly of: TokenKind;
  readonly title: string;
  readonly tokens: readonly LiveToken[];
}

function Sizes({ of, title, tokens }: SizesProps) {
  return (
    <>
      <h3>{title}</h3>
      <table>
        <tbody>
          {tokens.map(({ name, light }) => (
            <tr key={name}>
              <th scope="row">
                <code>{name}</code>
              </th>
              <td class="n">{light}</td>
              <td>
                <Shown of={of} name={name} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </>
  );
}

/** A size as it looks: a word, or a bar as long or a line as thick. */
function Shown({ of, name }: { of: TokenKind; name: string }) {
  const size = `var(${name})`;
  if (of === 'motion') return null;
  if (of === 'text') return <span style={{ fontSize: size }}>Trim by the stern, 0123456789</span>;
  const isLine = of === 'rule' || of === 'stroke';
  const [width, height] = isLine ? ['8rem', size] : [size, '0.7rem'];
  return <span class="bar-as-long" style={{ width, height }} />;
}
