// The panel of all sizes: one neckline over a pattern's sizes, every cut figure for each.

import { toCsv } from './csv.js';
import { visible } from '../common/foreign-text.js';
import { button, choice, download, freshId, make, textField } from '../common/controls.js';
import { Panel } from '../common/panel.js';
import { printAlone } from '../common/dom.js';
import { broughtBrief, cutFigures, firstSizes, isTold, readingsOf, sizeSet, stepsOf } from './size-set.js';
import { olderNote } from '../plan/notices.js';
import { MOST_EITHER_WAY } from '../keep/acceptable.js';

/** @import { BriefError } from '../types/errors.d.ts' */
/** @import { Plan } from '../types/plan.d.ts' */
/** @import { TextField } from '../common/controls.js' */
/** @import { Page } from '../common/panel.js' */
/** @import { CutFigure, Sizes } from './size-set.js' */

const PAUSE_MS = 250;

/** @typedef {{ name: string, back: string, isTold: boolean, plan?: Plan, figures: CutFigure[] | null }} Row */
/** @typedef {'front' | 'back'} HalfName */
/** @type {HalfName[]} */
const HALVES = ['front', 'back'];

export class SizesPanel extends Panel {
  static words = 'sizes';

  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #timer;
  /** @type {Row[]} */
  rows = [];
  /** @type {HTMLTableElement | undefined} */
  table;
  /** The fields of lengths by their path in the core's table. @type {Map<string, TextField>} */
  fields = new Map();
  result = make('div');
  status = make('p');

  /** @param {HTMLElement} container @param {Page} page */
  constructor(container, page) {
    super(container, page);
    this.take();
    this.listen(this.state, 'change', () => this.briefChanged());
    this.listen(page.session, 'sizes', () => {
      this.take();
      this.build();
    });
  }

  /** Takes the table that goes with the brief, or a first one. */
  take() {
    /** @type {Sizes} */
    this.sizes = { ...firstSizes(), ...structuredClone(this.page.session.sizes) };
    this.shape = this.shapeOf();
  }

  destroy() {
    clearTimeout(this.#timer);
    super.destroy();
  }

  /** Which readings can differ: the fields depend on it, not on the readings' values. */
  shapeOf() {
    const { neckline, head } = this.state.brief;
    return JSON.stringify([readingsOf(neckline.front), readingsOf(neckline.back), 'own_mm' in head.girth]);
  }

  briefChanged() {
    if (this.shape === this.shapeOf()) {
      this.later();
      return;
    }
    this.shape = this.shapeOf();
    this.build();
  }

  later() {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.unfolded(), PAUSE_MS);
  }

  keep() {
    this.page.session.setSizes(this.sizes);
    this.later();
  }

  /** @param {number} step */
  nameOf(step) {
    const given = this.sizes.names[step];
    if (given) return visible(given);
    return step === 0 ? this.t('base') : `${step > 0 ? '+' : '−'}${Math.abs(step)}`;
  }

  build() {
    const { group } = choice({
      legend: this.t('how'),
      options: [
        .../** @type {['brought', string][]} */ (this.sizes.brought ? [['brought', this.t('by_file')]] : []),
        ['growth', this.t('by_growth')],
        ['readings', this.t('by_readings')],
      ],
      value: this.mode,
      onChange: (mode) => {
        this.sizes.asBrought = mode === 'brought';
        if (mode !== 'brought') this.sizes.mode = mode;
        this.keep();
        this.build();
        /** @type {HTMLElement | null} */ (this.container.querySelector('input[type=radio]:checked'))?.focus();
      },
    });
    this.result = make('div', { class: 'sizes-result' });
    this.status = make('p', { class: 'status', role: 'status' });
    this.fields = new Map();
    this.container.replaceChildren(
      make('p', { class: 'hint', text: this.t('intro') }),
      this.mode === 'brought' ? '' : this.counts(),
      group,
      this.mode === 'growth' ? this.growthFields() : '',
      this.sizeRows(),
      olderNote(this.words),
      this.result,
      make(
        'p',
        { class: 'buttons' },
        button(this.t('copy'), () => this.copy()),
        button(this.t('download'), () => this.download()),
        button(this.t('print'), () => this.print()),
      ),
      this.status,
    );
    this.unfolded();
  }

  /** Folded away, the table asks for no work. */
  unfolded() {
    if (this.container.closest('details')?.open) this.reckon();
  }

  /** How the sizes are told. @returns {'growth' | 'readings' | 'brought'} */
  get mode() {
    return this.sizes.asBrought && this.sizes.brought ? 'brought' : this.sizes.mode;
  }

  counts() {
    /** @param {'smaller' | 'larger'} way */
    const count = (way) => {
      const id = freshId('sizes-count');
      const select = make('select', { id });
      for (let n = 0; n <= MOST_EITHER_WAY; n++) select.append(make('option', { value: n, text: String(n) }));
      select.value = String(this.sizes[way]);
      select.addEventListener('change', () => {
        this.sizes[way] = Number(select.value);
        this.keep();
        this.build();
        this.container.querySelectorAll('select')[way === 'smaller' ? 0 : 1]?.focus();
      });
      return make('div', { class: 'field' }, make('label', { for: id, text: this.t(way) }), select);
    };
    return make('div', { class: 'row' }, count('smaller'), count('larger'));
  }

  /**
   * A field for a length that may be left empty.
   * @template {string} Name @param {string} label @param {string} path @param {Partial<Record<Name, number | null>>} holder
   * @param {Name} name
   */
  lengthField(label, path, holder, name) {
    const before = holder[name];
    const value = typeof before === 'number' ? this.words.read(before, this.state.unit) : '';
    const one = textField({ label, unit: this.state.unit, value, inputmode: 'decimal' });
    one.input.addEventListener('change', () => {
      const read = this.reckoner.parseLength(one.input.value, this.state.unit);
      const isUnread = read.problem && read.problem !== 'empty';
      one.setError(isUnread ? this.t('length_needed') : '');
      if (isUnread) return;
      holder[name] = read.mm;
      this.keep();
    });
    this.fields.set(path, one);
    return one.field;
  }

  growthFields() {
    const { brief } = this.state;
    const { growth } = this.sizes;
    const halves = HALVES.map((half) =>
      make(
        'fieldset',
        { class: 'row' },
        make('legend', { text: this.t(`grows_${half}`) }),
        ...readingsOf(brief.neckline[half]).map((name) =>
          this.lengthField(this.t(`reading.${name}`), `growth.${half}.${name}`, growth[half], name),
        ),
      ),
    );
    const head = 'own_mm' in brief.head.girth ? this.lengthField(this.t('grows_head'), 'growth.head_mm', growth, 'head_mm') : null;
    return make('div', {}, ...halves, head);
  }

  sizeRows() {
    const byGrowth = this.mode !== 'readings';
    const rows = stepsOf(this.sizes).map((step) => {
      const name = textField({ label: this.t('name'), value: this.sizes.names[step] ?? '', hint: undefined });
      name.input.placeholder = this.nameOf(step);
      name.input.addEventListener('input', () => {
        this.sizes.names[step] = name.input.value.trim();
        this.keep();
      });
      const rest = byGrowth ? [this.backSelect(step)] : this.readingFields(step);
      return make('fieldset', { class: 'row size' }, make('legend', { text: this.nameOf(step) }), name.field, ...rest);
    });
    return make(
      'details',
      { class: 'size-rows', open: !byGrowth },
      make('summary', { text: this.t(byGrowth ? 'each_blend' : 'each_readings') }),
      ...rows,
    );
  }

  /** @param {number} step */
  backSelect(step) {
    const id = freshId('sizes-back');
    const select = make('select', { id });
    for (const other of stepsOf(this.sizes)) select.append(make('option', { value: other, text: this.nameOf(other) }));
    select.value = String(this.sizes.backs[step] ?? step);
    select.addEventListener('change', () => {
      this.sizes.backs[step] = Number(select.value);
      this.keep();
    });
    return make('div', { class: 'field' }, make('label', { for: id, text: this.t('back_from') }), select);
  }

  /** @param {number} step */
  readingFields(step) {
    this.sizes.readings[step] ??= { front: {}, back: {} };
    const own = this.sizes.readings[step];
    const { neckline, head } = this.state.brief;
    const fields = HALVES.flatMap((half) =>
      readingsOf(neckline[half]).map((name) =>
        this.lengthField(this.t(`of_${half}`, { name: this.t(`reading.${name}`) }), `readings.${step}.${half}.${name}`, own[half], name),
      ),
    );
    if ('own_mm' in head.girth) fields.push(this.lengthField(this.t('head'), `readings.${step}.head_mm`, own, 'head_mm'));
    return fields;
  }

  // ---- the table

  reckon() {
    clearTimeout(this.#timer);
    for (const one of this.fields.values()) if (!one.input.getAttribute('aria-invalid')) one.setError('');
    const steps = stepsOf(this.sizes);
    const { brief } = this.state;
    /** @param {number} step */
    const nameOf = (step) => this.nameOf(step);
    const made =
      this.mode === 'brought'
        ? { sizes: steps.map((step) => this.reckoner.plan(broughtBrief(this.sizes, brief, step, nameOf(step)))) }
        : this.reckoner.sizes(brief, sizeSet(this.sizes, brief, nameOf));
    const { sizes } = made;
    if (!sizes) {
      this.refuse(made.errors);
      return;
    }
    this.rows = steps.map((step, i) => {
      const answer = sizes[i];
      const back = this.mode !== 'readings' ? (this.sizes.backs[step] ?? step) : step;
      const told = isTold(this.sizes, step);
      return {
        name: this.nameOf(step),
        back: back === step ? '' : this.nameOf(back),
        isTold: told,
        plan: answer.plan,
        figures: told && answer.plan ? cutFigures(answer.plan) : null,
      };
    });
    this.draw();
  }

  /** @param {BriefError[]} errors */
  refuse(errors) {
    this.rows = [];
    let placed = false;
    for (const { field, accepted } of errors) {
      const one = this.fields.get(field);
      if (!one) continue;
      placed = true;
      const { min, max } = accepted;
      one.setError(this.t('accepted', { min: this.length(min ?? NaN), max: this.length(max ?? NaN) }));
    }
    this.result.replaceChildren(make('p', { class: 'warning', text: this.t(placed ? 'see_fields' : 'cannot') }));
  }

  /** Every figure that any size has, in order; sizes may differ in how many marks they need. */
  columns() {
    const longest = this.rows.map(({ figures }) => figures ?? []).sort((a, b) => b.length - a.length)[0] ?? [];
    return longest.map(({ key, values }) => ({ key, values, id: JSON.stringify([key, values]) }));
  }

  draw() {
    const columns = this.columns();
    // A back of another size is rare, and the cut figures are wanted beside the name.
    const hasBacks = this.rows.some(({ back }) => back);
    const head = [
      this.t('column.size'),
      ...(hasBacks ? [this.t('column.back')] : []),
      ...columns.map(({ key, values }) => this.t(`column.${key}`, values)),
      this.t('column.outcome'),
    ];
    const body = this.rows.map((row) => {
      const cells = columns.map(({ id }) => {
        const figure = row.figures?.find(({ key, values }) => JSON.stringify([key, values]) === id);
        return make('td', { text: figure ? this.length(figure.mm, { suffix: false }) : '–' });
      });
      return make(
        'tr',
        {},
        make('th', { scope: 'row', text: row.name }),
        ...(hasBacks ? [make('td', { text: row.back || row.name })] : []),
        ...cells,
        make('td', { text: this.outcomeOf(row) }),
      );
    });
    const id = freshId('sizes-table');
    this.table = make(
      'table',
      { 'aria-labelledby': id },
      make('caption', { id }, make('span', { text: this.t('caption', { unit: this.state.unit, title: this.state.brief.title ?? '' }) })),
      make('thead', {}, make('tr', {}, ...head.map((text) => make('th', { scope: 'col', text })))),
      make('tbody', {}, ...body),
    );
    // A wide table scrolls in its own place, by keyboard too.
    this.result.replaceChildren(
      make('p', { class: 'hint more-aside', text: this.t('more_aside') }),
      make('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-labelledby': id }, this.table),
    );
  }

  /** @param {Row} row */
  outcomeOf({ plan, isTold: told }) {
    if (!told) return this.t(`outcome.untold_${this.sizes.mode}`);
    if (!plan) return this.t('outcome.refused');
    if (!plan.opening.passes) return this.t('outcome.sticks');
    return plan.strip ? this.t(`outcome.${plan.strip.outcome}`) : this.t('outcome.passes');
  }

  csv() {
    const columns = this.columns();
    const { unit } = this.state;
    /** @param {number} mm */
    const number = (mm) => (unit === 'in' ? Math.round((mm / 25.4) * 1000) / 1000 : Math.round((unit === 'cm' ? mm / 10 : mm) * 100) / 100);
    const head = [
      this.t('column.size'),
      this.t('column.back'),
      ...columns.map(({ key, values }) => `${this.t(`column.${key}`, values)} (${unit})`),
      this.t('column.outcome'),
    ];
    const rows = this.rows.map((row) => [
      row.name,
      row.back || row.name,
      ...columns.map(({ id }) => {
        const figure = row.figures?.find(({ key, values }) => JSON.stringify([key, values]) === id);
        return figure ? number(figure.mm) : '';
      }),
      this.outcomeOf(row),
    ]);
    return toCsv([head, ...rows], this.words.language);
  }

  async copy() {
    if (this.rows.length === 0) {
      this.status.textContent = this.t('cannot');
      return;
    }
    try {
      await navigator.clipboard.writeText(this.csv());
      this.status.textContent = this.t('copied');
    } catch {
      this.status.textContent = this.t('copy_failed');
    }
  }

  download() {
    // A spreadsheet takes the text for UTF-8 only with this mark in front.
    download('lieflat-sizes.csv', 'text/csv;charset=utf-8', `\ufeff${this.csv()}`);
  }

  /** Prints the table alone. */
  print() {
    if (!this.table) return;
    printAlone([this.table.cloneNode(true)]);
  }
}
