import type { BoatView } from '../../scene/view.ts';

/** The view that is on the page, for measuring and tests. */
export const onPage: { view: BoatView | undefined } = { view: undefined };
