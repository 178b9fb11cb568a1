import type { BufferGeometry } from 'three';

/** Three corners a triangle, as places in the geometry's positions. */
export const cornersOf = (geometry: BufferGeometry): ArrayLike<number> =>
  geometry.getIndex()?.array ??
  Array.from({ length: geometry.getAttribute('position').count }, (_, i) => i);
