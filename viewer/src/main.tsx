import './shared/style/base.css';
import './float/page.css';
import './shared/style/pages.css';
import './stability/page.css';
import './review/page.css';
import './print/page.css';
import './cutting/page.css';
import { render } from 'preact';
import { App } from './app.tsx';
import * as api from './session/api.ts';
import { answersFrom } from './session/offline/answers.ts';
import { islandOf, offlineCopyIn } from './session/offline/copy.ts';
import { OfflineReview } from './session/offline/review.ts';
import { marks } from './session/working-copy/answer-times.ts';
import { onPage } from './shared/view3d/use-boat-view.ts';

Object.assign(window, {
  hullchange: {
    marks,
    get view() {
      return onPage.view;
    },
    describe: () => onPage.view?.describe(),
  },
});
const offlineCopy = offlineCopyIn(islandOf);
const offlineReview = offlineCopy && new OfflineReview(offlineCopy, ownStorage());
if (offlineCopy && offlineReview) api.askInstead(answersFrom(offlineCopy, islandOf, offlineReview));
render(
  <App offlineCopy={offlineCopy} offlineReview={offlineReview} />,
  document.querySelector('#app') ?? document.body,
);

/** The browser's own store; undefined where it lets a file have none. */
function ownStorage(): Storage | undefined {
  try {
    return localStorage;
  } catch {
    return undefined;
  }
}
