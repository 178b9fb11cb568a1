/** Her outlines from the side, parts coloured by what they do and hatched by its side. */
import type { Outline } from '../../contract.ts';
import { useBoat, useRoute, useViewing } from '../../session/context.tsx';
import { type Scale, svgPathOf, withHoles } from '../boat/side-view.ts';
import { hatchedPieces, pieceColours } from '../colour/paint.ts';
import { lastKey } from '../words/plain-words.ts';

const BELOW_PARTS: readonly Outline['role'][] = ['appendage', 'hull', 'chine', 'sheer'];

export function Outlines({ scale, plain }: { scale: Scale; plain: boolean }) {
  const { working, scales } = useBoat();
  const { mode } = useViewing();
  const { route } = useRoute();
  const { profile, assessment } = working;
  const colours = pieceColours(plain ? 'plain' : mode, assessment, working.scene, scales);
  const hatched = hatchedPieces(plain ? 'plain' : mode, assessment);
  const order = (role: Outline['role']) => profile.outlines.filter((o) => o.role === role);
  const below = profile.outlines.filter((o) => BELOW_PARTS.includes(o.role)); // as they hide
  return (
    <>
      {below.map((o) => (
        <path key={o.id} class={o.role} d={svgPathOf(o.points_m, o.closed, scale)} />
      ))}
      {withHoles(order('existing')).map((outlines, i) => (
        <path
          key={`${outlines[0]?.id}${i}`}
          class="existing"
          fill-rule="evenodd"
          d={outlines.map((o) => svgPathOf(o.points_m, o.closed, scale)).join('')}
        />
      ))}
      {withHoles(order('part')).map((outlines, i) => {
        const id = lastKey(outlines[0]?.id ?? '');
        const path = {
          d: outlines.map((o) => svgPathOf(o.points_m, o.closed, scale)).join(''),
          'fill-rule': 'evenodd',
        } as const;
        return (
          <g key={`${id}${i}`}>
            <path
              {...path}
              class={`part ${!plain && route.picked?.part === id ? 'picked' : ''}`}
              style={colours.has(id) ? { fill: colours.get(id) } : {}}
            />
            {hatched.has(id) && <path {...path} class="hatched" />}
          </g>
        );
      })}
      {order('replaced').map((o, i) => (
        <path key={`${o.id}${i}`} class="replaced" d={svgPathOf(o.points_m, o.closed, scale)} />
      ))}
    </>
  );
}
