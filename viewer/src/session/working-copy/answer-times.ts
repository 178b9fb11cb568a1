/** How long the answer to an input took: numbers on the page and meshes in place, before drawing. */

type Half = 'numbers' | 'meshes';

/** An edit and when each half of its answer was in place, from the input event [ms]. */
export interface Mark extends Readonly<Record<Half, number>> {
  readonly edit: number;
}

export const marks: Mark[] = [];
const open = new Map<number, Partial<Record<Half, number>>>();

/** Notes that one half of an edit's answer is in place. */
export function inPlace(half: Half, edit: number, since: number | undefined): void {
  if (since === undefined || marks.some((mark) => mark.edit === edit)) return;
  const halves = { [half]: performance.now() - since, ...open.get(edit) };
  const { numbers, meshes } = halves;
  if (numbers === undefined || meshes === undefined) {
    open.set(edit, halves);
    return;
  }
  open.delete(edit);
  performance.measure(`answer to edit ${edit}`, { start: since });
  marks.push({ edit, numbers, meshes });
}
