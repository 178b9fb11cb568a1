/** How the reader wants numbers written: chosen once, kept in the browser, the same on every page. */

export interface NumberStyle {
  readonly units: 'metric' | 'feet and inches';
  /** The decimal sign. */
  readonly decimal: '.' | ',';
}

const PLAIN: NumberStyle = { units: 'metric', decimal: '.' };
let inUse = PLAIN;

export const writing = (): NumberStyle => inUse;

/** Takes another way of writing; whoever shows a number is to be drawn again. */
export function writeIn(chosen: NumberStyle): void {
  inUse = chosen;
}

/** A choice as it was kept; what is not understood of it is metric, with a point. */
export function writingFrom(kept: string | null): NumberStyle {
  const [units, decimal] = (kept ?? '').split('/');
  return {
    units: units === 'feet and inches' ? units : PLAIN.units,
    decimal: decimal === ',' ? decimal : PLAIN.decimal,
  };
}

/** A choice as it is kept. */
export const writingKept = ({ units, decimal }: NumberStyle): string => `${units}/${decimal}`;
