/** The narrowest of the pages' widths, as the style sheets have it. */
export const NARROW_PAGE = '(max-width: 760px)';
/** Where the parts of a page stand beside one another, each as high as the window leaves. */
export const BESIDE = '(width > 1000px)';
