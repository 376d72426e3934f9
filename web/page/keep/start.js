// Takes up the person's work when the page opens, puts the panels below the answers, and says what the
// person should know: a brief that came by a link, storage that fails, a new version.

import { Fold, PANELS } from '../common/fold.js';
import { createNotices } from '../common/page-notices.js';
import { watchForUpdates } from '../common/offline.js';
import { parts } from '../parts.js';
import { Session } from './session.js';

/** @import { Notices } from '../common/page-notices.js' */
/** @import { Begun, Part } from '../common/panels.js' */
/** @import { Store } from './store.js' */
/** @import { Words } from '../common/words.js' */

/** @typedef {Parameters<Notices['show']>[1]} What a message says */

const NAMES = /** @type {(keyof typeof PANELS)[]} */ (Object.keys(PANELS));

/** The page's own place for a panel. @param {keyof typeof PANELS} key */
const panelPlace = (key) => /** @type {HTMLElement} */ (document.getElementById(`${key}-panel`));

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
 * @param {Begun} page
 * @returns {Promise<Part>}
 */
export async function startKeeping(page) {
  const notices = createNotices(place(), page.words);
  const session = await Session.begin(page);
  const show = () => {
    showShared(notices, session);
    showBroken(notices, session);
    showUnknown(notices, session);
    showTrouble(notices, session.store);
  };
  session.addEventListener('change', show);
  session.store.addEventListener('trouble', show);
  show();
  // What a press had the page fetch comes before its version goes: Chromium lets a version whose worker was at work just then go
  // only half a minute later.
  watchForUpdates(notices, () => Promise.all([session.flush(), page.form.ahead(), parts.ahead()]));
  const folds = NAMES.map((key) => new Fold(panelPlace(key), key, { ...page, session }));
  return {
    /** @param {Words} words */
    refresh(words) {
      session.words = words;
      notices.setWords(words);
      for (const fold of folds) fold.refresh(words);
    },
  };
}

/** Shows a message anew only where it says something else. @param {Notices} notices @param {string} id @param {What | false} what */
function showOnce(notices, id, what) {
  if (!what) notices.hide(id);
  else if (!notices.has(id) || notices.saidOf(id) !== JSON.stringify([what.key, what.values ?? {}])) notices.show(id, what);
}

/** @param {Notices} notices @param {Session} session */
function showShared(notices, session) {
  const { shared } = session;
  showOnce(
    notices,
    'shared',
    shared !== null && {
      key: `share.shown${shared.edited ? '_edited' : ''}${shared.title ? '_titled' : ''}`,
      values: { title: shared.title },
      actions: [
        { key: 'share.make_own', run: () => session.makeOwn() },
        { key: 'share.back', run: () => session.backToOwn() },
      ],
    },
  );
}

/** @param {Notices} notices @param {Session} session */
function showBroken(notices, session) {
  const { broken } = session;
  const again = { key: 'offline.again', run: () => session.readAgain() };
  showOnce(
    notices,
    'broken',
    broken !== null && {
      key: `share.broken.${broken}`,
      kind: 'warning',
      actions: [...(broken === 'not_fetched' ? [again] : []), { key: 'share.dismiss', run: () => session.forgetBroken() }],
    },
  );
}

/** Most names of unknown parts that are said. */
const MOST_NAMES = 5;

/** @param {Notices} notices @param {Session} session */
function showUnknown(notices, session) {
  const { unknown, words } = session;
  const names = unknown
    .slice(0, MOST_NAMES)
    .map((name) => name.slice(0, 60))
    .join(words.t('list.semicolon'));
  showOnce(
    notices,
    'unknown',
    unknown.length > 0 && {
      key: 'keep.unknown_parts',
      values: { names: unknown.length > MOST_NAMES ? `${names} …` : names },
      kind: 'warning',
      actions: [{ key: 'share.dismiss', run: () => session.forgetUnknown() }],
    },
  );
}

/** @param {Notices} notices @param {Store} store */
function showTrouble(notices, store) {
  showOnce(notices, 'trouble', store.trouble !== null && { key: `keep.trouble.${store.trouble}`, kind: 'warning' });
}
