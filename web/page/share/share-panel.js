// The panel that hands the brief on: as a link, and as a snippet for a page of one's own.

import { FIELD, encodeBrief, handedOn, isOwnFile, textIn } from './codec.js';
import { button, choice, freshId, make } from '../common/controls.js';
import { Panel } from '../common/panel.js';

/** @import { Page } from '../common/panel.js' */

/** Longer links still open; they make a poor code to scan and are cut by some mail programs. */
const LONG_LINK = 1200;
const PAUSE_MS = 200;

/**
 * Puts a text on the clipboard; where that is not allowed, selects it for the person.
 * @param {HTMLInputElement | HTMLTextAreaElement} field
 */
async function copyFrom(field) {
  field.select();
  try {
    await navigator.clipboard.writeText(field.value);
    return true;
  } catch {
    return false;
  }
}

/** @param {string} text */
const quoted = (text) => text.replaceAll('&', '&amp;').replaceAll('"', '&quot;').replaceAll('<', '&lt;');

/**
 * What to paste into a page to show a brief there.
 * @param {'element' | 'frame'} form
 * @param {{ text: string, base: string, unit: string, language: string, title: string }} what
 */
export function embedSnippet(form, { text, base, unit, language, title }) {
  /** @param {string} name */
  const address = (name) => quoted(new URL(name, base).href);
  if (form === 'frame') {
    const hash = new URLSearchParams({ brief: text, unit, lang: language });
    return `<iframe src="${address(`embed/frame.html#${hash}`)}" title="${quoted(title)}" width="100%" height="640" loading="lazy" sandbox="allow-scripts allow-same-origin allow-popups"></iframe>`;
  }
  return `<script type="module" src="${address('embed.js')}"></script>\n<lieflat-neckline brief="${quoted(text)}" unit="${quoted(unit)}" lang="${quoted(language)}"></lieflat-neckline>`;
}

export class SharePanel extends Panel {
  static words = 'share';

  /** @type {'element' | 'frame'} */
  form = 'element';
  link = make('input');
  snippet = make('textarea');
  note = make('p');
  status = make('p');
  usable = make('div');
  blocked = make('p');
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;

  /** @param {HTMLElement} container @param {Page} page */
  constructor(container, page) {
    super(container, page);
    for (const event of ['change', 'plan', 'settings']) this.listen(this.state, event, () => this.#later());
  }

  destroy() {
    clearTimeout(this.#timer);
    super.destroy();
  }

  #later() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.fill(), PAUSE_MS);
  }

  build() {
    const linkId = freshId('share-link');
    const snippetId = freshId('share-snippet');
    this.link = make('input', { id: linkId, type: 'text', class: 'wide', readonly: true, spellcheck: 'false' });
    this.snippet = make('textarea', { id: snippetId, rows: 5, readonly: true, spellcheck: 'false' });
    this.note = make('p', { class: 'hint' });
    this.status = make('p', { class: 'status', role: 'status' });
    const isFile = isOwnFile(location.href);
    const handed = isFile ? ['text', 'copy_text'] : ['link', 'copy_link'];
    this.usable = make(
      'div',
      {},
      make('div', { class: 'field' }, make('label', { for: linkId, text: this.t(handed[0]) }), this.link),
      this.note,
      make('p', { class: 'buttons' }, this.copyButton(handed[1], this.link), this.shareButton(isFile ? 'text' : 'url')),
      make('h3', { text: this.t('embed_heading') }),
      ...(isFile ? [make('p', { class: 'hint', text: this.t('embed_elsewhere') })] : this.embedding(snippetId)),
    );
    this.blocked = make('p', { class: 'warning', text: this.t('errors_first'), hidden: true });
    const intro = make('p', { class: 'hint', text: this.t(isFile ? 'intro_own_file' : 'intro') });
    this.container.replaceChildren(intro, this.blocked, this.usable, this.status, this.opening());
    this.fill();
  }

  /** @param {string} snippetId */
  embedding(snippetId) {
    return [
      make('p', { class: 'hint', text: this.t('embed_hint') }),
      this.formChoice(),
      make('div', { class: 'field' }, make('label', { for: snippetId, text: this.t('snippet') }), this.snippet),
      make('p', { class: 'buttons' }, this.copyButton('copy_snippet', this.snippet)),
    ];
  }

  /** Where what was handed on by somebody else is pasted. */
  opening() {
    const id = freshId('share-given');
    const given = make('input', { id, type: 'text', class: 'wide', spellcheck: 'false', autocomplete: 'off' });
    const open = () => {
      const text = textIn(given.value);
      if (text) location.hash = `${FIELD}=${text}`;
    };
    given.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') open();
    });
    return make(
      'div',
      {},
      make('h3', { text: this.t('given_heading') }),
      make('div', { class: 'field' }, make('label', { for: id, text: this.t('given') }), given),
      make('p', { class: 'buttons' }, button(this.t('open_given'), open)),
    );
  }

  formChoice() {
    const { group } = choice({
      legend: this.t('form'),
      options: [
        ['element', this.t('form_element')],
        ['frame', this.t('form_frame')],
      ],
      value: this.form,
      onChange: (form) => {
        this.form = form;
        this.fill();
      },
    });
    return group;
  }

  /** @param {string} key @param {HTMLInputElement | HTMLTextAreaElement} field */
  copyButton(key, field) {
    return button(this.t(key), async () => {
      this.status.textContent = this.t((await copyFrom(field)) ? 'copied' : 'copy_by_hand');
    });
  }

  /** @param {'url' | 'text'} as what is handed on */
  shareButton(as) {
    if (typeof navigator.share !== 'function') return null;
    return button(this.t('share'), async () => {
      try {
        await navigator.share({ title: this.state.brief.title ?? 'Lieflat', [as]: this.link.value });
      } catch (error) {
        // The person closed the list of programs: nothing to say.
        if (!(error instanceof Error) || error.name !== 'AbortError') this.status.textContent = this.t('share_failed');
      }
    });
  }

  fill() {
    const { brief, errors, unit } = this.state;
    const broken = errors.length > 0;
    this.blocked.hidden = !broken;
    this.usable.hidden = broken;
    if (broken) return;
    this.link.value = handedOn(brief, location.href, unit);
    const count = this.link.value.length;
    this.note.textContent = this.t(count > LONG_LINK ? 'long' : 'length', { count: this.words.number(count, { digits: 0 }) });
    if (isOwnFile(location.href)) return;
    this.snippet.value = embedSnippet(this.form, {
      text: encodeBrief(brief),
      base: new URL('.', location.href).href,
      unit,
      language: this.words.language,
      title: this.words.t('embed.frame_title'),
    });
  }
}
