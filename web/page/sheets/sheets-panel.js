// The panel that makes sheets for the sewing table: which, on what paper, and as what. What makes them is fetched when it is asked for.

import { button, freshId, make } from '../common/controls.js';
import { fetched } from '../common/fetched.js';
import { isNarrow } from '../common/narrow.js';
import { Panel, showPanel } from '../common/panel.js';
import { usualPaper } from '../common/region.js';
import { recall, remember } from '../common/settings.js';
import { wholeWords } from '../common/words.js';
import * as choices from '../generated/sheets.js';

/** @import { Brief } from '../types/brief.d.ts' */
/** @import { Shown } from '../common/panel.js' */

/** @import { Maker, Act } from './maker.js' */
/** @import { Paper, Sheet, StripForm } from './sheets.js' */

/** Whether a finish has such a sheet. @param {Brief} brief @param {Sheet} sheet */
const has = ({ finish }, sheet) => (sheet === 'facing' ? 'facing' in finish : sheet !== 'strip' || !('facing' in finish));

/**
 * @param {HTMLElement} container
 * @param {Shown} page
 */
export function createSheetsPanel(container, page) {
  return showPanel(SheetsPanel, container, page);
}

/** What there is a button for: acts of the maker. @type {readonly Act[]} */
const ACTS = ['pdf', 'svg', 'dxf_r2000', 'dxf_r12', 'project'];

/** @extends {Panel<Shown>} */
export class SheetsPanel extends Panel {
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
  /** @type {Maker | undefined} */
  #maker;

  /** @param {HTMLElement} container @param {Shown} page */
  constructor(container, page) {
    super(container, page);
    for (const event of ['plan', 'settings']) this.listen(this.state, event, () => this.follow());
  }

  destroy() {
    this.#maker?.forget();
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
    this.buttons = ACTS.map((act) => button(this.t(`make_${act}`), () => this.make(act)));
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
    this.#maker?.list([]);
  }

  /** What the person wants. */
  get wanted() {
    const { brief } = this.state;
    return {
      paper: this.#paper,
      strip: this.#strip,
      sheets: choices.Sheet.filter((sheet) => this.#wanted.has(sheet) && has(brief, sheet)),
    };
  }

  /** One job at a time. The buttons keep the focus meanwhile, so they are not disabled. @param {Act} act */
  async make(act) {
    if (this.#busy) return;
    this.#busy = true;
    for (const one of this.buttons) one.setAttribute('aria-disabled', 'true');
    this.container.setAttribute('aria-busy', 'true');
    this.#maker?.list([]);
    this.say(this.t('busy'));
    try {
      const words = () => this.words;
      const load = () => Promise.all([import('./maker.js'), wholeWords(words)]);
      const [{ Maker }] = await fetched(this.problem.parentElement ?? this.container, load, { key: 'offline.missing', words });
      this.#maker ??= new Maker(this);
      await this.#maker.make(act);
    } catch {
      this.say('', this.t('failed'));
    } finally {
      this.#busy = false;
      for (const one of this.buttons) one.removeAttribute('aria-disabled');
      this.container.removeAttribute('aria-busy');
    }
  }

  /** @param {string} status @param {string} [problem] */
  say(status, problem = '') {
    this.status.textContent = status;
    this.problem.textContent = problem;
  }
}
