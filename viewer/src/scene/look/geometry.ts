/** Geometries of what was read, and what is asked of them. */
import { Box3, BufferAttribute, BufferGeometry } from 'three';
import type { Surface } from '../../shared/shapes/glb.ts';

export function geometryOf({ positions, normals, corners }: Surface): BufferGeometry {
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(positions, 3));
  if (normals.length === positions.length)
    geometry.setAttribute('normal', new BufferAttribute(normals, 3));
  return geometry.setIndex(new BufferAttribute(corners, 1));
}

/** Three corners a triangle, as places in the geometry's positions. */
export const cornersOf = (geometry: BufferGeometry): ArrayLike<number> =>
  geometry.getIndex()?.array ??
  Array.from({ length: geometry.getAttribute('position').count }, (_, i) => i);

/** Around what is drawn, in its own axes. */
export function boxOf({ geometry }: { readonly geometry: BufferGeometry }): Box3 {
  if (!geometry.boundingBox) geometry.computeBoundingBox();
  return geometry.boundingBox ?? new Box3();
}
