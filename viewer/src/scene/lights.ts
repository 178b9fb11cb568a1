/** What lights the boat: the sky from above, and a sun over the bow to port. */
import { DirectionalLight, HemisphereLight } from 'three';

export function lights(): readonly [HemisphereLight, DirectionalLight] {
  const sun = new DirectionalLight('#ffffff', 1.5);
  sun.position.set(-5, 12, 8);
  return [new HemisphereLight('#ffffff', '#9aa0a4', 1.9), sun];
}
