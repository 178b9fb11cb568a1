/** What can be grasped: where its numbers stand in the document, and how they are read and written. */
import { withUnit } from '../fields/field-numbers.ts';
import type { GraspAxis } from './steps.ts';

/** One number of the document, or the few of a point, that can be dragged in a drawing. */
export interface Graspable {
  readonly path: string;
  readonly name: string;
  readonly axes: readonly GraspAxis[];
  /** The numbers in what stands at the path; undefined where there are none. */
  readonly read: (whole: unknown) => readonly number[] | undefined;
  /** What is to stand at the path, from what stood there when it was grasped. */
  readonly write: (values: readonly number[], whole: unknown) => unknown;
  /** Takes it out; undefined where it must be there. */
  readonly remove?: (() => void) | undefined;
  /** Whether it stands in the document only once it is dragged. */
  readonly isNew?: boolean;
}

/** A number by itself. */
export const single = (whole: unknown): readonly number[] | undefined =>
  typeof whole === 'number' ? [whole] : undefined;

/** The number at a place of a row. */
export const ofRow = (index: number) => (whole: unknown) =>
  Array.isArray(whole) ? single(whole[index]) : undefined;

/** A row with another number at a place. */
export const intoRow =
  (index: number) =>
  ([value]: readonly number[], whole: unknown): unknown =>
    Array.isArray(whole) ? whole.with(index, value) : whole;

/** A number as it is written; those of a point each with the way it is measured. */
export const valueWords = ({ axes }: Graspable, values: readonly number[]): string =>
  axes
    .map(({ field }, i) => {
      const words = withUnit(field, values[i] ?? 0);
      return axes.length > 1 ? `${words} ${field.label}` : words;
    })
    .join(', ');
