/** Hydrostatics of the hull upright at her design waterline; each figure opens. */

import type { HullResult } from '../contract.ts';
import { useBoat } from '../session/context.tsx';
import { ExplainButton } from '../shared/explain/explain-button.tsx';
import { quantity } from '../shared/words/numbers.ts';

type Key = keyof HullResult;
type HullRow = readonly [Key, string, string, number, string];

const ROWS: readonly HullRow[] = [
  ['length_m', 'length', 'm', 0.01, 'Over the measured lines, stem to transom.'],
  ['length_waterline_m', 'waterline length', 'm', 0.01, 'Between the perpendiculars.'],
  ['beam_m', 'beam', 'm', 0.01, 'Greatest breadth at the sheer.'],
  ['beam_waterline_m', 'waterline beam', 'm', 0.01, 'Greatest breadth at the design waterline.'],
  ['draught_m', 'draught', 'm', 0.01, 'From the design waterline to the lowest point of the keel.'],
  [
    'displacement_at_dwl_kg',
    'displacement',
    'kg',
    10,
    'Volume below the design waterline, keel and skeg included, times the density of the water.',
  ],
  [
    'kg_per_cm',
    'immersion',
    'kg/cm',
    1,
    'Waterplane area times density: the weight that sinks her by one centimetre.',
  ],
  [
    'trim_moment_kgm_per_cm',
    'moment to trim (MTC)',
    'kg·m/cm',
    1,
    'Displacement times longitudinal GM, for one centimetre of trim between the perpendiculars; her centre of gravity is taken at the centre of buoyancy. The value with her actual centre of gravity is given for each condition.',
  ],
  [
    'lcb_m',
    'centre of buoyancy',
    'm',
    0.01,
    'Along the boat, of the volume below the design waterline.',
  ],
  ['vcb_m', 'centre of buoyancy, height', 'm', 0.01, 'Above the design waterline, so negative.'],
  [
    'lcf_m',
    'centre of flotation',
    'm',
    0.01,
    'Centroid of the waterplane: a weight put there sinks her without trim.',
  ],
  [
    'km_m',
    'KM',
    'm',
    0.01,
    'Height of the metacentre above the design waterline: centre of buoyancy plus transverse second moment of the waterplane over volume.',
  ],
  ['km_longitudinal_m', 'KM, longitudinal', 'm', 0.1, 'The same, lengthwise.'],
  ['waterplane_area_m2', 'waterplane area', 'm²', 0.1, 'Area cut by the design waterline.'],
  ['wetted_area_m2', 'wetted area', 'm²', 0.1, 'Area of the hull below the design waterline.'],
  [
    'block_coefficient',
    'block coefficient',
    '',
    0.001,
    'Volume over waterline length × waterline beam × draught, volume and draught those of the hull without its keel.',
  ],
  [
    'prismatic_coefficient',
    'prismatic coefficient',
    '',
    0.001,
    'Volume over waterline length × largest section, both of the hull without its keel.',
  ],
  [
    'midship_coefficient',
    'midship coefficient',
    '',
    0.001,
    'Largest section over waterline beam × draught, of the hull without its keel.',
  ],
  [
    'waterplane_coefficient',
    'waterplane coefficient',
    '',
    0.001,
    'Waterplane area over waterline length × waterline beam.',
  ],
];

/** Places along the boat. */
const ALONG: readonly Key[] = ['lcb_m', 'lcf_m'];

export function HullFigures() {
  const { working } = useBoat();
  const { hull } = working.assessment;
  return (
    <table class="plain-table">
      <tbody>
        {ROWS.map(([key, name, unit, step, meaning]) => (
          <tr key={key}>
            <th scope="row">{name}</th>
            <td>
              <ExplainButton explained={{ title: name, meaning, path: `hull.${key}` }}>
                {quantity(hull[key], unit, step)}
                {ALONG.includes(key) && ' aft'}
              </ExplainButton>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
