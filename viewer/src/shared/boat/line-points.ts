/** A line's name and the number of a point, from its place in the document. */
export function pointAt(place: string): readonly [string, number] {
  const [, line = '', index = '0'] = /^hull\.lines\.([^.]+)\.points_m\[(\d+)\]$/.exec(place) ?? [];
  return [line, Number(index)];
}
