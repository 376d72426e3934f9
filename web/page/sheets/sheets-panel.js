// The panel that makes sheets for the sewing table: which, on what paper, as PDF or as SVG.

import { button, freshId, make } from '../common/controls.js';
import { isNarrow } from '../common/narrow.js';
import { Panel, showPanel } from '../common/panel.js';
import { usualPaper } from '../common/region.js';
import { recall, remember } from '../common/settings.js';
import * as choices from '../generated/sheets.js';
import { makePdf, makeSvgs } from './sheets.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Shown } from '../common/panel.js' */

const LONGEST_NAME = 40;

/** @import { Paper, Sheet, SheetOptions, StripForm } from './sheets.js' */
/** @typedef {{ name: string, type: string, content: BlobPart }} File */

/** Whether a finish has such a sheet. @param {Brief} brief @param {Sheet} sheet */
const has = ({ finish }, sheet) => (sheet === 'facing' ? 'facing' in finish : sheet !== 'strip' || !('facing' in finish));

/**
 * @param {HTMLElement} container
 * @param {Shown} page
 */
export function createSheetsPanel(container, page) {
  return showPanel(SheetsPanel, container, page);
}

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

/** @extends {Panel<Shown>} */
class SheetsPanel extends Panel {
  static words = 'sheets.panel';

  /** @type {Set<Sheet>} */
  #wanted = new Set(choices.Sheet);
  /** What the person chose, now or before, else what is in use where they are. @type {Paper} */
  #paper = choices.Paper.find((paper) => paper === recall('paper')) ?? usualPaper();
  /** @type {StripForm} */
  #strip = 'auto';
  #busy = false;
  paper = this.select('paper', choices.Paper, () => {});
  form = this.select('strip_form', choices.StripForm, () => {}, 'strip_');
  boxOf = this.boxesOf();
  status = make('p');
  problem = make('p');
  files = make('ul');
  /** @type {HTMLButtonElement[]} */
  buttons = [];
  /** @type {string[]} */
  #addresses = [];

  /** @param {HTMLElement} container @param {Shown} page */
  constructor(container, page) {
    super(container, page);
    for (const event of ['plan', 'settings']) this.listen(this.state, event, () => this.follow());
  }

  destroy() {
    this.forget();
    super.destroy();
  }

  build() {
    this.paper = this.select('paper', choices.Paper, (paper) => {
      this.#paper = paper;
      remember('paper', paper);
    });
    this.form = this.select('strip_form', choices.StripForm, (form) => (this.#strip = form), 'strip_');
    const boxes = make('fieldset', { class: 'choice' }, make('legend', { text: this.t('wanted') }));
    this.boxOf = this.boxesOf();
    boxes.append(...this.boxOf.values());
    this.status = make('p', { class: 'status', role: 'status' });
    this.problem = make('p', { class: 'error', role: 'alert' });
    this.files = make('ul', { class: 'files', hidden: true });
    this.buttons = [
      button(this.t('make_pdf'), () => this.make(() => this.pdf())),
      button(this.t('make_svg'), () => this.make(() => this.svgs())),
    ];
    this.container.classList.add('keep');
    const before = this.container.querySelector('details');
    this.container.replaceChildren(
      make(
        'details',
        { open: before ? before.open : !isNarrow() },
        make('summary', {}, make('h2', { text: this.t('heading') })),
        make('p', { class: 'hint', text: this.t('lead') }),
        this.paper.field,
        boxes,
        this.form.field,
        make('p', { class: 'actions' }, ...this.buttons),
        this.status,
        this.problem,
        this.files,
      ),
    );
    this.follow();
  }

  /**
   * @template {string} Option @param {string} key @param {readonly Option[]} options @param {(option: Option) => void} take @param {string} [prefix]
   */
  select(key, options, take, prefix = '') {
    const id = freshId('sheets');
    const choices = options.map((option) => make('option', { value: option, text: this.t(prefix + option) }));
    const input = make('select', { id }, ...choices);
    input.addEventListener('change', () => take(options[input.selectedIndex]));
    return { input, field: make('div', { class: 'field' }, make('label', { for: id, text: this.t(key) }), input) };
  }

  boxesOf() {
    return new Map(choices.Sheet.map((sheet) => [sheet, this.box(sheet)]));
  }

  /** @param {Sheet} sheet */
  box(sheet) {
    const id = freshId('sheets');
    const input = make('input', { type: 'checkbox', id, 'data-sheet': sheet });
    input.addEventListener('change', () => {
      if (input.checked) this.#wanted.add(sheet);
      else this.#wanted.delete(sheet);
    });
    input.checked = this.#wanted.has(sheet);
    return make('div', { class: 'option' }, input, make('label', { for: id, text: this.t(sheet) }));
  }

  /** Shows what this finish has. */
  follow() {
    this.paper.input.value = this.#paper;
    this.form.input.value = this.#strip;
    for (const [sheet, box] of this.boxOf) box.hidden = !has(this.state.brief, sheet);
    this.form.field.hidden = !has(this.state.brief, 'strip');
    // Files and words of an older plan would mislead.
    this.say('');
    this.list([]);
  }

  /** One job at a time. The buttons keep the focus meanwhile, so they are not disabled. @param {() => Promise<void>} job */
  async make(job) {
    if (this.#busy) return;
    this.#busy = true;
    for (const one of this.buttons) one.setAttribute('aria-disabled', 'true');
    this.container.setAttribute('aria-busy', 'true');
    this.list([]);
    this.say(this.t('busy'));
    try {
      await job();
    } catch (error) {
      this.say('', this.t(String(error) === 'nothing_to_print' ? 'none_wanted' : 'failed'));
    } finally {
      this.#busy = false;
      for (const one of this.buttons) one.removeAttribute('aria-disabled');
      this.container.removeAttribute('aria-busy');
    }
  }

  /** The brief with its full plan; says why where there is none. */
  planned() {
    const { brief, errors } = this.state;
    const answer = errors.length ? { errors } : this.reckoner.plan(brief);
    if ('plan' in answer && answer.plan) return { brief, plan: answer.plan };
    this.say('', this.t('in_error', { count: this.words.number(answer.errors?.length ?? 0) }));
    return undefined;
  }

  /** @param {Brief} brief @returns {Promise<SheetOptions>} */
  async options(brief) {
    const date = new Intl.DateTimeFormat(this.words.language, { dateStyle: 'long' }).format(new Date());
    const { handedOn } = await import('../share/codec.js');
    return {
      paper: this.#paper,
      unit: this.state.unit,
      language: this.words.language,
      date,
      link: handedOn(brief, location.href, this.state.unit),
      sheets: choices.Sheet.filter((sheet) => this.#wanted.has(sheet) && has(brief, sheet)),
      strip: this.#strip,
    };
  }

  async pdf() {
    const found = this.planned();
    if (!found) return;
    const { brief, plan } = found;
    const { bytes, pages, replaced } = await makePdf(brief, plan, await this.options(brief));
    const name = this.fileName(brief, 'pdf');
    this.list([{ name, type: 'application/pdf', content: bytes }]);
    this.files.querySelector('a')?.click();
    const letters = replaced.map(quotedLetter).join(', ');
    const note = letters ? ` ${this.t('replaced', { letters })}` : '';
    this.say(this.t('done_pdf', { file: name, pages: this.words.number(pages) }) + note);
  }

  async svgs() {
    const found = this.planned();
    if (!found) return;
    const { brief, plan } = found;
    const pieces = await makeSvgs(brief, plan, await this.options(brief));
    if (!pieces.length) throw 'nothing_to_print';
    const files = pieces.map(({ name, svg }) => ({ name: this.fileName(brief, `${name}.svg`), type: 'image/svg+xml', content: svg }));
    this.list(files);
    this.say(this.t('done_svg', { count: this.words.number(files.length) }));
  }

  /** @param {Brief} brief @param {string} ending */
  fileName(brief, ending) {
    const stem = fileStem(brief.title ?? '');
    return `${['lieflat', stem].filter(Boolean).join('-')}${ending === 'pdf' ? '.' : '-'}${ending}`;
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
    this.files.replaceChildren(...links);
    this.files.hidden = links.length === 0;
  }

  forget() {
    for (const address of this.#addresses) URL.revokeObjectURL(address);
    this.#addresses = [];
  }

  /** @param {string} status @param {string} [problem] */
  say(status, problem = '') {
    this.status.textContent = status;
    this.problem.textContent = problem;
  }
}
