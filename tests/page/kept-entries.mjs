// Invented entries as they are kept, and the file they are handed out in.

import { importModule } from './modules.mjs';

const { exportText } = await importModule('web/page/keep/merge.js');

/** @param {string} title */
export const brief = (title) => ({ schema: 'lieflat.brief', version: 1, title });
/** @param {string} id @param {string} name @param {object} [content] */
export const entry = (id, name, content = brief(name)) => ({
  id,
  name,
  created: '2026-01-01T00:00:00Z',
  changed: '2026-01-02T00:00:00Z',
  revision: 3,
  brief: content,
});
/** @param {string} id @param {string} name @param {number} [stretch] */
export const knit = (id, name, stretch = 50) => ({
  id,
  name,
  revision: 1,
  knit: { name, crosswise: { percent: { stretch_percent: stretch } } },
});
/** @param {string} id @param {string} title */
export const draft = (id, title) => ({ id, changed: '2026-01-02T00:00:00Z', brief: brief(title) });
export const nothing = { briefs: [], knits: [], drafts: [] };

/** The text of a file of everything kept. @param {{ briefs: object[], knits: object[], drafts: object[], unread?: object[] }} kept */
export const file = (kept) => exportText({ unread: [], ...kept }, '2026-02-01T00:00:00Z');
