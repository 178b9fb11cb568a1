import { Box3, type BufferGeometry } from 'three';

/** Around what is drawn, in its own axes. */
export function boxOf({ geometry }: { readonly geometry: BufferGeometry }): Box3 {
  if (!geometry.boundingBox) geometry.computeBoundingBox();
  return geometry.boundingBox ?? new Box3();
}
