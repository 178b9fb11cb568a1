import './style/base.css';
import './style/float.css';
import './style/pages.css';
import './style/stability.css';
import './style/review.css';
import './style/print.css';
import './style/cutting.css';
import { render } from 'preact';
import * as api from './api.ts';
import { App } from './app.tsx';
import { onPage } from './components/use-boat-view.ts';
import { Filed } from './filed.ts';
import { answersFrom, islandOf, keptIn } from './kept.ts';
import { marks } from './marks.ts';

Object.assign(window, {
  hullchange: {
    marks,
    get view() {
      return onPage.view;
    },
    describe: () => onPage.view?.describe(),
  },
});
const kept = keptIn(islandOf);
const filed = kept && new Filed(kept, drawer());
if (kept && filed) api.askInstead(answersFrom(kept, islandOf, filed));
render(<App kept={kept} filed={filed} />, document.querySelector('#app')!);

/** The browser's own store; undefined where it lets a file have none. */
function drawer(): Storage | undefined {
  try {
    return localStorage;
  } catch {
    return undefined;
  }
}
