import assert from 'node:assert/strict';
import { afterEach, test } from 'node:test';
import { reworded } from './sentences.ts';
import { writeIn } from './writing.ts';

const FEET = { units: 'feet and inches', decimal: '.' } as const;
const COMMA = { units: 'metric', decimal: ',' } as const;
afterEach(() => writeIn({ units: 'metric', decimal: '.' }));

/** Sentences as the example boats get them: metric, in feet and inches, with a comma. */
const SENTENCES: readonly (readonly [string, string, string])[] = [
  [
    'Drain area of the cockpit: 39.27 cm², at least 191.3 cm² required; not met.',
    'Drain area of the cockpit: 6.087 in², at least 29.65 in² required; not met.',
    'Drain area of the cockpit: 39,27 cm², at least 191,3 cm² required; not met.',
  ],
  [
    'The refit trims 171 mm by the stern, 1.7 % of her waterline: about 2,613 kg·m.',
    'The refit trims 6 3/4 in by the stern, 1.7 % of her waterline: about 18,900 ft·lb.',
    'The refit trims 171 mm by the stern, 1,7 % of her waterline: about 2\u202f613 kg·m.',
  ],
  [
    'The trim is 112 mm ± 11 mm, at least −25 mm (margin −8.0 sd).',
    'The trim is 4 7/16 in ± 7/16 in, at least −1 in (margin −8.0 sd).',
    'The trim is 112 mm ± 11 mm, at least −25 mm (margin −8,0 sd).',
  ],
  [
    'Centre of gravity typed (+0.10 ± 0.03 m from inclining): GM 0.98 m ± 0.03 m.',
    'Centre of gravity typed (+4″ ± 1 1/4″ from inclining): GM 3′ 2 1/2″ ± 1 1/4″.',
    'Centre of gravity typed (+0,10 ± 0,03 m from inclining): GM 0,98 m ± 0,03 m.',
  ],
  [
    'Plate top stands 2.4 to 6.0 mm off the deck along 200 mm of its edge.',
    'Plate top stands 0.094 to 0.236 in off the deck along 7 7/8 in of its edge.',
    'Plate top stands 2,4 to 6,0 mm off the deck along 200 mm of its edge.',
  ],
  [
    'full to the deck it holds 2,002 l of water, 2,052 kg; chain from x 0.6 to 2.2 m',
    'full to the deck it holds 528.9 US gal of water, 4,524 lb; chain from x 2′ to 7′ 3″',
    'full to the deck it holds 2\u202f002 l of water, 2\u202f052 kg; chain from x 0,6 to 2,2 m',
  ],
  [
    'Under water at 60.4° in cockpit flooded; 8 mm plate, article 3.2 and version 0.3.1 stay.',
    'Under water at 60.4° in cockpit flooded; 8 mm plate, article 3.2 and version 0.3.1 stay.',
    'Under water at 60,4° in cockpit flooded; 8 mm plate, article 3.2 and version 0.3.1 stay.',
  ],
  [
    'kg per cm 6.2.3 m; MGN 280, 11.8.2; 3 methods, 12 months, 0.07 kN/m2, 1 kg/h, x2 m',
    'kg per cm 6.2.3 m; MGN 280, 11.8.2; 3 methods, 12 months, 0.07 kN/m2, 1 kg/h, x2 m',
    'kg per cm 6.2.3 m; MGN 280, 11.8.2; 3 methods, 12 months, 0,07 kN/m2, 1 kg/h, x2 m',
  ],
];

test('quantities in sentences are written as chosen, and nothing else is touched', () => {
  for (const [metric, feet, comma] of SENTENCES) {
    assert.equal(reworded(metric.replaceAll('−', '-')), metric);
    writeIn(FEET);
    assert.equal(reworded(metric), feet);
    writeIn(COMMA);
    assert.equal(reworded(metric), comma);
    writeIn({ units: 'metric', decimal: '.' });
  }
});

test('a key of the file is called as the field of the page is', () => {
  assert.equal(
    reworded('house needs one height: give side_height_m, or side_height_forward_m.'),
    'house needs one height: give side height, or side height forward.',
  );
  assert.equal(reworded('at_m.x is 500 m, far from the boat.'), 'x is 500 m, far from the boat.');
  assert.equal(reworded('At openings.fore-hatch.edge_m.'), 'At openings.fore-hatch.edge_m.');
});
