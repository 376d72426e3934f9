// Makes what the sheets' panel is asked for, and offers the files: fetched when the first is asked for.

import { make } from '../common/controls.js';
import { handedOn } from '../share/codec.js';
import { makePdf, makePieces } from './sheets.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { Values } from '../common/words.js' */
/** @import { SheetsPanel } from './sheets-panel.js' */
/** @import { PieceForm, SheetOptions } from './sheets.js' */

/** @typedef {'pdf' | 'project' | PieceForm} Act */
/** @typedef {{ name: string, type: string, content: BlobPart }} File */

const LONGEST_NAME = 40;

/** How a piece's file ends, and its type. @type {Record<PieceForm, [ending: string, type: string]>} */
const PIECES = {
  svg: ['.svg', 'image/svg+xml'],
  dxf_r12: ['-r12.dxf', 'image/vnd.dxf'],
  dxf_r2000: ['-r2000.dxf', 'image/vnd.dxf'],
};

/** A title as part of a file's name: plain letters and digits, or nothing. @param {string} [title] */
export function fileStem(title = '') {
  const plain = title
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-');
  return plain.slice(0, LONGEST_NAME).replace(/^-+|-+$/g, '');
}

/** A letter that is seen, or its code point: `😀 (U+1F600)`, `U+202E`. @param {string} letter */
export function quotedLetter(letter) {
  const code = `U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;
  return /[\p{C}\p{Z}\p{M}]/u.test(letter) ? code : `${letter} (${code})`;
}

export class Maker {
  /** @type {string[]} */
  #addresses = [];

  /** @param {SheetsPanel} panel what is asked, and where it is answered */
  constructor(panel) {
    this.panel = panel;
  }

  /** @param {string} key @param {Values} [values] */
  t(key, values) {
    return this.panel.words.t(`sheets.made.${key}`, values);
  }

  /** @param {Act} act */
  async make(act) {
    const found = this.#planned();
    if (!found) return;
    const { brief, plan } = found;
    const options = this.#options(brief);
    try {
      await this.#made(act, brief, plan, options);
    } catch (error) {
      if (String(error) !== 'nothing_to_print') throw error;
      this.panel.say('', this.t('none_wanted'));
    }
  }

  /** @param {Act} act @param {Brief} brief @param {Plan} plan @param {SheetOptions} options */
  async #made(act, brief, plan, options) {
    if (act === 'pdf') return this.#pdf(brief, await makePdf(brief, plan, options));
    const form = act === 'project' ? 'svg' : act;
    const pieces = await makePieces(brief, plan, options, form);
    if (!pieces.length) throw 'nothing_to_print';
    if (act === 'project') {
      const { openProjector } = await import('./projector.js');
      this.panel.say('');
      return openProjector(this.panel, pieces);
    }
    const [ending, type] = PIECES[form];
    const files = pieces.map(({ name, file }) => ({ name: this.#fileName(brief, `-${name}${ending}`), type, content: file }));
    this.list(files);
    this.panel.say(this.t(form === 'svg' ? 'done_svg' : 'done_dxf', { count: this.panel.words.number(files.length) }));
  }

  /** The brief with its full plan; says why where there is none. */
  #planned() {
    const { state, reckoner, words } = this.panel;
    const { brief, errors } = state;
    const answer = errors.length ? { errors } : reckoner.plan(brief);
    if ('plan' in answer && answer.plan) return { brief, plan: answer.plan };
    this.panel.say('', this.t('in_error', { count: words.number(answer.errors?.length ?? 0) }));
    return undefined;
  }

  /** @param {Brief} brief @returns {SheetOptions} */
  #options(brief) {
    const { state, words, wanted } = this.panel;
    const date = new Intl.DateTimeFormat(words.language, { dateStyle: 'long' }).format(new Date());
    return { unit: state.unit, language: words.language, date, link: handedOn(brief, location.href, state.unit), ...wanted };
  }

  /** @param {Brief} brief @param {Awaited<ReturnType<typeof makePdf>>} made */
  #pdf(brief, { bytes, pages, replaced }) {
    const { panel } = this;
    const name = this.#fileName(brief, '.pdf');
    this.list([{ name, type: 'application/pdf', content: bytes }]);
    panel.files.querySelector('a')?.click();
    const letters = replaced.map(quotedLetter).join(', ');
    const note = letters ? ` ${this.t('replaced', { letters })}` : '';
    panel.say(this.t('done_pdf', { file: name, pages: panel.words.number(pages) }) + note);
  }

  /** @param {Brief} brief @param {string} ending */
  #fileName(brief, ending) {
    return ['lieflat', fileStem(brief.title ?? '')].filter(Boolean).join('-') + ending;
  }

  /**
   * Links to files just made, in place of those made before. A browser saves one file a click, so each has its link.
   * @param {File[]} files
   */
  list(files) {
    this.forget();
    const links = files.map(({ name, type, content }) => {
      const address = URL.createObjectURL(new Blob([content], { type }));
      this.#addresses.push(address);
      return make('li', {}, make('a', { href: address, download: name, text: name }));
    });
    this.panel.files.replaceChildren(...links);
    this.panel.files.hidden = links.length === 0;
  }

  forget() {
    for (const address of this.#addresses) URL.revokeObjectURL(address);
    this.#addresses = [];
  }
}
