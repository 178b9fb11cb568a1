import './style/base.css';
import './style/float.css';
import './style/pages.css';
import './style/stability.css';
import './style/print.css';
import { render } from 'preact';
import * as api from './api.ts';
import { App } from './app.tsx';
import { onPage } from './components/use-boat-view.ts';
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
if (kept) api.askInstead(answersFrom(kept, islandOf));
render(<App kept={kept} />, document.querySelector('#app')!);
