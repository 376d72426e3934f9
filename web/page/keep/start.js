// Takes up the person's work when the page opens, and says what they should
// know about it: a brief that came by a link, storage that fails, a new version.

import { createNotices } from './notices.js';
import { watchForUpdates } from './offline.js';
import { sessionOf } from './session.js';

/** Where messages go: the page's own place for them, or above everything in its main part. */
function place() {
  const given = document.getElementById('notices');
  if (given) return given;
  const made = document.createElement('div');
  made.id = 'notices';
  document.querySelector('main')?.prepend(made);
  return made;
}

/**
 * @param {{ state: object, reckoner: object, words: object }} page
 * @returns {Promise<{ session: import('./session.js').Session, refresh(words: object): void }>}
 */
export async function startKeeping(page) {
  const notices = createNotices(place(), page.words);
  const session = await sessionOf(page);
  const show = () => {
    showShared(notices, session);
    showBroken(notices, session);
    showTrouble(notices, session.store);
  };
  session.addEventListener('change', show);
  session.store.addEventListener('trouble', show);
  show();
  watchForUpdates(notices, () => session.flush());
  return {
    session,
    refresh(words) {
      session.words = words;
      notices.setWords(words);
    },
  };
}

function showShared(notices, session) {
  const { shared } = session;
  if (!shared) {
    notices.hide('shared');
    return;
  }
  const key = `share.shown${shared.edited ? '_edited' : ''}${shared.title ? '_titled' : ''}`;
  if (notices.has('shared') && notices.key === key) return;
  notices.key = key;
  notices.show('shared', {
    key,
    values: { title: shared.title },
    actions: [
      { key: 'share.make_own', run: () => session.makeOwn() },
      { key: 'share.back', run: () => session.backToOwn() },
    ],
  });
}

function showBroken(notices, session) {
  if (!session.broken) notices.hide('broken');
  else if (!notices.has('broken')) {
    notices.show('broken', {
      key: `share.broken.${session.broken}`,
      kind: 'warning',
      actions: [{ key: 'share.dismiss', run: () => session.forgetBroken() }],
    });
  }
}

function showTrouble(notices, store) {
  if (!store.trouble) notices.hide('trouble');
  else notices.show('trouble', { key: `keep.trouble.${store.trouble}`, kind: 'warning' });
}
