/** What the boat's materials add to the library's shaders, in the boat's own axes. */

/** As many rectangles as the shader asks of each spot of the deck. */
export const MOST_OPENINGS = 6;

/** Hands the place and the normal on her over to the fragments. */
export const withBoatPlace = (shader: string): string =>
  `varying vec3 vBoat; varying vec3 vBoatNormal;\n${shader}`.replace(
    '#include <begin_vertex>',
    '#include <begin_vertex>\nvBoat = position; vBoatNormal = normal;',
  );

export const DECLARED = `
varying vec3 vBoat; varying vec3 vBoatNormal;
uniform vec3 uUp, uPaintUp, uTopsides, uBootTop, uAntifouling, uDeck, uDeep;
uniform float uOffset, uPaintOffset, uBand;
uniform vec4 uOpenings[${MOST_OPENINGS}];
uniform int uOpeningCount;
`;

/** The deck is left out where it is open; a keel's upper side, under the waterline, is none. */
export const WELLS = `
if (vBoatNormal.y > 0.6 && vBoat.y > 0.0) {
  for (int i = 0; i < ${MOST_OPENINGS}; i++) {
    vec4 open = uOpenings[i];
    if (i < uOpeningCount && vBoat.x > open.x && vBoat.x < open.z
        && vBoat.z > open.y && vBoat.z < open.w) discard;
  }
}
`;

/** Antifouling, boot-top and topsides by the height above one plane; the deck by its slope. */
export const PAINTED = `
${WELLS}
float above = dot(uPaintUp, vBoat) - uPaintOffset;
float soft = max(fwidth(above), 1e-4);
float onDeck = smoothstep(0.55, 0.7, normalize(vBoatNormal).y) * step(0.25, above);
vec3 coat = mix(uAntifouling, uBootTop, smoothstep(-soft, soft, above));
coat = mix(coat, uTopsides, smoothstep(uBand - soft, uBand + soft, above));
diffuseColor.rgb = mix(coat, uDeck, onDeck);
`;

/** The deeper under water, the more of the water's colour. */
export const UNDER_WATER = `
float depth = uOffset - dot(uUp, vBoat);
outgoingLight = mix(outgoingLight, uDeep, (1.0 - exp(-max(depth, 0.0) * 0.9)) * 0.62);
#include <opaque_fragment>
`;
