import './shared/style/tokens.css';
import './shared/style/elements.css';
import './shared/style/common.css';
import './shared/feedback/feedback.css';
import './shared/explain/explain.css';
import './shared/fields/fields.css';
import './shared/files/files.css';
import './shared/comments/comments.css';
import './shared/grasp/grasp.css';
import './shared/profile/profile.css';
import './shared/profile/person.css';
import './shared/view3d/view3d.css';
import './shared/view3d/tape.css';
import './shared/input/input.css';
import './shared/panel/panel.css';
import './frame/header.css';
import './frame/register.css';
import './frame/frame.css';
import './frame/answer/answer-line.css';
import './frame/answer/figure-strip.css';
import './float/float.css';
import './float/beam.css';
import './ledger/tools.css';
import './ledger/ledger.css';
import './boat/boat.css';
import './start/start.css';
import './stability/stability.css';
import './stability/levers/levers.css';
import './stability/heeled.css';
import './shared/margin/still-allowed.css';
import './review/review.css';
import './print/print.css';
import './guide/guide.css';
import './photograph/photograph.css';
import './cutting/pack.css';
import './cutting/cutting.css';
import './cutting/print.css';
import { render } from 'preact';
import { App } from './app.tsx';
import * as api from './session/api.ts';
import { answersFrom } from './session/offline/answers.ts';
import { dataBlockOf, offlineCopyIn } from './session/offline/copy.ts';
import { OfflineReview } from './session/offline/review.ts';
import { keepFirstPicture } from './session/picture.ts';
import { marks } from './session/working-copy/answer-times.ts';
import { sealState, unsignable } from './shared/files/seal.ts';
import { onPage } from './shared/view3d/on-page.ts';

Object.assign(window, {
  hullchange: {
    marks,
    get view() {
      return onPage.view;
    },
    describe: () => onPage.view?.describe(),
  },
});
keepFirstPicture();
const offlineCopy = offlineCopyIn(dataBlockOf);
const offlineReview = offlineCopy && new OfflineReview(offlineCopy, ownStorage());
void begin();

async function begin(): Promise<void> {
  const seal = offlineCopy ? await sealState([...dataBlocks()], crypto.subtle) : 'whole';
  if (offlineCopy && offlineReview) {
    const answers = answersFrom(offlineCopy, dataBlockOf, offlineReview);
    api.askInstead(seal === 'changed' ? unsignable(answers) : answers);
  }
  render(
    <App offlineCopy={offlineCopy} offlineReview={offlineReview} seal={seal} />,
    document.querySelector('#app') ?? document.body,
  );
}

function dataBlocks(): NodeListOf<HTMLScriptElement> {
  return document.querySelectorAll('script[id]:not([type=module])');
}

/** The browser's own store; undefined where it lets a file have none. */
function ownStorage(): Storage | undefined {
  try {
    return localStorage;
  } catch {
    return undefined;
  }
}
