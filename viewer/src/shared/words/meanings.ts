/** What the figures mean, in the words of the trade; formulas where they are short. */

export const MEANINGS: Readonly<Record<string, string>> = {
  displacement:
    'Mass of the boat and of the water she pushes aside. As found it comes from the freeboards and the hull’s measured lines; the changes are added to it line by line.',
  lcg: 'Centre of gravity along the boat, aft of the forward perpendicular (FP: where the design waterline meets the stem).',
  vcg: 'Height of the centre of gravity above the design waterline (DWL). Freeboards cannot measure it: as found it comes from an inclining or is typed.',
  bow: 'How much deeper than the design waterline (DWL) she lies at the forward perpendicular: sinkage amidships less half the trim.',
  midships:
    'How much deeper than the design waterline she lies half-way between the perpendiculars, at equilibrium in all three: sinkage, trim and heel.',
  stern:
    'How much deeper than the design waterline she lies at the after perpendicular: sinkage amidships plus half the trim.',
  trim: 'Difference of immersion between the perpendiculars. By the stern: the stern lies deeper. Errors of the boat as found largely cancel in the change.',
  list: 'Heel at rest, from weights off the centreline.',
  gm: 'Metacentric height of the boat held upright, whatever her list, with the liquids in their tanks free to move: the slope of the righting lever at no heel. Larger is stiffer.',
  freeboard:
    'From the sheer at the mark down to the water, mean of both sides. The change is refit less as found.',
};

/** The entry of the Guide about a figure, by the last words of its path in the answer. */
const GUIDE_ENTRIES: readonly (readonly [end: RegExp, entry: string])[] = [
  [/displacement_kg$/, 'displacement'],
  [/(centre_of_gravity_m\.x|lcg_m|lcb_m)$/, 'lcg'],
  [/(centre_of_gravity_m\.z|vcg_m|vcg_mm)$/, 'vcg'],
  [/sinkage(_bow|_stern)?_mm$/, 'sinkage'],
  [/trim_mm$/, 'trim'],
  [/heel_deg$/, 'list'],
  [/^conditions\..*(freeboard_mm|freeboards_at_marks\..*)$/, 'freeboard'],
  [/kg_per_cm$/, 'immersion'],
  [/trim_moment_kgm_per_cm$/, 'mtc'],
  [/lcf_m$/, 'lcf'],
  [/\b(gm|gm_solid|gm_at_rest|km)_mm?$/, 'gm'],
  [/(greatest_gz_m|greatest_gz_at_deg|\.gz_m\.\d+)$/, 'gz'],
  [/vanishing_angle(_[a-z_]+)?_deg$/, 'avs'],
  [/downflooding_[a-z_]+_deg$/, 'downflooding'],
  [/range_deg$/, 'range'],
  [/length_waterline_m$/, 'dwl'],
  [/camber_m$/, 'camber'],
];

/** The entry of the Guide on the figure at a path; undefined where it has none. */
export const guideEntryOf = (path: string): string | undefined =>
  GUIDE_ENTRIES.find(([end]) => end.test(path))?.[1];
