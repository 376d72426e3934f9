// The embedded calculator alone in a page, for hosts that take a frame but no script.
// Its address's fragment carries what the element's attributes carry:
// #brief=…&unit=…&lang=…&finish=…
//
// Messages: the frame tells its parent `{ type: 'lieflat:height', height }` when its
// height changes. It listens to nothing but `{ type: 'lieflat:ask-height' }`, and only
// from its parent.
import '../embed.js';
import { languageOf } from '../../web/page/embed/language.js';

const element = document.createElement('lieflat-neckline');
const root = document.documentElement;

function takeFragment() {
  const given = new URLSearchParams(location.hash.slice(1));
  for (const name of ['brief', 'unit', 'lang', 'finish']) {
    const value = given.get(name);
    if (value === null) element.removeAttribute(name);
    else element.setAttribute(name, value);
  }
  root.lang = languageOf(given.get('lang'));
}

// A height tells a stranger nothing, so any parent may know it.
function tellHeight() {
  if (window.parent === window) return;
  window.parent.postMessage({ type: 'lieflat:height', height: Math.ceil(element.getBoundingClientRect().height) }, '*');
}

takeFragment();
document.querySelector('main').append(element);
addEventListener('hashchange', takeFragment);
new ResizeObserver(tellHeight).observe(element);
addEventListener('message', ({ source, data }) => {
  if (source === window.parent && data?.type === 'lieflat:ask-height') tellHeight();
});
