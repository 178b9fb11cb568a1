/** The narrowest of the pages' widths, as the style sheets have it. */
export const NARROW_PAGE = '(max-width: 760px)';
