/** The measured lines of the hull, as the document has them. */
import { at, type Mapping, mapping, text } from './document.ts';
import { isPoint, type Point } from './points.ts';

interface HullLine {
  readonly id: string;
  readonly kind: string;
  readonly points: readonly Point[];
}

/** The lines of the document, keel to sheer, as it names them. */
export function linesOf(document: Mapping): readonly HullLine[] {
  return Object.entries(mapping(at(document, 'hull.lines'))).flatMap(([id, line]) => {
    const points = mapping(line).points_m;
    if (!Array.isArray(points)) return [];
    return [{ id, kind: text(mapping(line).kind), points: points.filter(isPoint) }];
  });
}
