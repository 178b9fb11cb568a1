import './style/base.css';
import './style/float.css';
import './style/pages.css';
import './style/stability.css';
import './style/print.css';
import { render } from 'preact';
import { App } from './app.tsx';
import { onPage } from './components/use-boat-view.ts';
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
render(<App />, document.querySelector('#app')!);
