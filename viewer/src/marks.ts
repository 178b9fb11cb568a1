/** How long the answer to an input took: numbers on the page and meshes in place, before drawing. */

export interface Mark {
  readonly edit: number;
  /** From the input event until both were in place [ms]. */
  readonly ms: number;
}

interface Open {
  readonly since: number;
  numbers: boolean;
  meshes: boolean;
}

export const marks: Mark[] = [];
const open = new Map<number, Open>();

/** Notes that one half of an edit's answer is in place. */
export function inPlace(
  half: 'numbers' | 'meshes',
  edit: number,
  since: number | undefined,
): void {
  if (since === undefined || marks.some((mark) => mark.edit === edit)) return;
  const one = open.get(edit) ?? { since, numbers: false, meshes: false };
  one[half] = true;
  open.set(edit, one);
  if (!one.numbers || !one.meshes) return;
  open.delete(edit);
  const end = performance.now();
  performance.measure(`answer to edit ${edit}`, { start: one.since, end });
  marks.push({ edit, ms: end - one.since });
}
