/** Colours that follow the page, light or dark. */
export interface Palette {
  readonly existing: string;
  readonly ink: string;
  readonly touch: string;
  readonly sea: string;
  /** What water makes of all that lies deep in it. */
  readonly deep: string;
  readonly topsides: string;
  readonly bootTop: string;
  readonly antifouling: string;
  readonly deck: string;
  readonly glass: string;
  /** The former waterline, which is seen on dark paint and on light. */
  readonly formerLine: string;
  readonly formerHalo: string;
  /** Edges on paint and steel. */
  readonly edge: string;
  readonly outline: string;
  readonly isDark: boolean;
}

/** Until the page has told its colours. */
export const FIRST_PALETTE: Palette = {
  existing: '#bbb',
  ink: '#222',
  touch: '#077',
  sea: '#9bb',
  deep: '#899',
  topsides: '#fff',
  bootTop: '#222',
  antifouling: '#733',
  deck: '#ddd',
  glass: '#456',
  formerLine: '#ffe',
  formerHalo: '#222',
  edge: '#222',
  outline: '#222',
  isDark: false,
};
