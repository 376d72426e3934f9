// The panel that records how a sewn strip came out, so that the next one is cut
// from what this knit really did. The core does the reckoning: this only writes
// the record into the brief's knit, and into the kept knit of the same name.

import { button, choice, make, textField } from '../common/controls.js';
import { visible } from '../common/foreign-text.js';
import { SewnWidth } from '../generated/limits.js';
import { unionOfRecords } from '../keep/merge.js';
import { Panel } from '../common/panel.js';

/** @import { Brief, SewnFinish, SewnOutcome, SewnRecord } from '../types/brief.d.ts' */
/** @import { StripPlan } from '../types/plan.d.ts' */
/** @import { Page } from '../common/panel.js' */
/** @import { TextField } from '../common/controls.js' */

/** @type {SewnOutcome[]} */
const OUTCOMES = ['lay_flat', 'stood_away', 'pulled_in'];

/** The knit that the strip is cut from. @param {Brief} brief */
const stripKnit = (brief) => brief.strip_knit ?? brief.garment_knit;
/** @param {Brief} brief */
const finishOf = (brief) => Object.keys(brief.finish)[0];

/** The part of the brief that holds the strip's knit. @param {Brief} brief */
const partOf = (brief) => (brief.strip_knit ? 'strip_knit' : 'garment_knit');

export class OutcomePanel extends Panel {
  static words = 'outcome';

  /** @type {SewnOutcome} */
  outcome = 'lay_flat';
  by = textField({ label: '' });
  sewn = textField({ label: '' });
  width = textField({ label: '' });
  status = make('p');
  form = make('div');
  noStrip = make('p');
  learned = make('p');
  why = make('p');
  heading = make('h3');
  list = make('ul');

  /** @param {HTMLElement} container @param {Page} page */
  constructor(container, page) {
    super(container, page);
    this.listen(this.state, 'plan', () => this.draw());
  }

  build() {
    const { unit } = this.state;
    this.by = textField({ label: this.t('by'), unit, hint: this.t('by_hint'), inputmode: 'decimal' });
    this.sewn = textField({ label: this.t('sewn_length'), unit, hint: this.t('sewn_hint'), inputmode: 'decimal' });
    this.width = textField({ label: this.t('sewn_width'), unit, hint: this.t('sewn_width_hint'), inputmode: 'decimal' });
    const { group } = choice({
      legend: this.t('how'),
      options: OUTCOMES.map((outcome) => [outcome, this.t(outcome)]),
      value: this.outcome,
      onChange: (outcome) => {
        this.outcome = outcome;
        this.by.field.hidden = outcome === 'lay_flat';
      },
    });
    this.by.field.hidden = this.outcome === 'lay_flat';
    this.status = make('p', { class: 'status', role: 'status' });
    this.form = make(
      'div',
      {},
      group,
      this.by.field,
      this.sewn.field,
      this.width.field,
      make(
        'p',
        { class: 'buttons' },
        button(this.t('record'), () => this.record()),
      ),
    );
    this.noStrip = make('p', { class: 'hint', text: this.t('no_strip'), hidden: true });
    this.learned = make('p');
    this.why = make('p', { class: 'hint', text: this.t('why'), hidden: true });
    this.heading = make('h3');
    this.list = make('ul', { class: 'entries' });
    this.container.replaceChildren(
      make('p', { class: 'hint', text: this.t('intro') }),
      this.noStrip,
      this.form,
      this.status,
      this.heading,
      this.learned,
      this.why,
      this.list,
    );
    this.draw();
  }

  get records() {
    const { brief } = this.state;
    return stripKnit(brief).learned ?? [];
  }

  draw() {
    const strip = this.state.plan?.strip;
    this.noStrip.hidden = Boolean(strip);
    this.form.hidden = !strip;
    this.width.field.hidden = !strip || strip.narrowing.stretch_percent < SewnWidth.stretch_percent[0];
    this.heading.textContent = this.t('records_heading', { of: this.of() });
    this.learned.textContent = this.learnedText(strip);
    this.why.hidden = !strip?.learned;
    const finish = finishOf(this.state.brief);
    const rows = this.records.map((record, place) => ({ record, place })).filter(({ record }) => record.finish === finish);
    this.list.replaceChildren(...rows.map(({ record, place }) => this.row(record, place)));
  }

  /** What a record is of: the strip's knit, by its name where it has one, and the finish. */
  of() {
    const { brief } = this.state;
    const knit = visible(stripKnit(brief).name ?? '') || this.words.t(brief.strip_knit ? 'knit.strip' : 'knit.garment');
    return this.t('of', { knit, finish: this.words.t(`field.finish.options.${finishOf(brief)}`) });
  }

  /** @param {StripPlan | undefined} strip */
  learnedText(strip) {
    const learned = strip?.learned;
    if (!learned) return this.t('none');
    return this.count('learned', learned.records, {
      hold: this.percent(strip.hold_percent),
      low: this.percent(learned.low_percent),
      high: this.percent(learned.high_percent),
      mean: this.percent(learned.mean_percent),
      usual: this.percent(learned.usual_percent),
    });
  }

  /** @param {SewnRecord} record @param {number} place */
  row(record, place) {
    const text = this.told(record);
    return make(
      'li',
      {},
      make('span', { text }),
      button(this.t('remove'), () => this.remove(place), { 'aria-label': this.t('remove_named', { record: text }) }),
    );
  }

  /** A record in words. @param {SewnRecord} record */
  told(record) {
    const said =
      record.outcome === 'lay_flat' ? this.t('said_lay_flat') : this.t(`said_${record.outcome}`, { by: this.length(record.by_mm ?? 0) });
    const when = written(record.recorded ?? '', this.words.language);
    const row = this.t(when ? 'row' : 'row_undated', { when, strip: this.length(record.strip_mm), said });
    return record.width ? this.t('row_width', { row, width: this.length(record.width.sewn_mm) }) : row;
  }

  /**
   * A length the person typed; says what is wrong beside the field.
   * @param {TextField} field @param {{ needed: boolean }} how @returns {{ mm?: number } | undefined}
   */
  read(field, { needed }) {
    const read = this.reckoner.parseLength(field.input.value, this.state.unit);
    if (read.problem === 'empty' && !needed) {
      field.setError('');
      return { mm: undefined };
    }
    const good = read.mm !== undefined && read.mm > 0;
    field.setError(good ? '' : this.t('length_needed'));
    return good ? { mm: read.mm } : undefined;
  }

  record() {
    const strip = this.state.plan?.strip;
    if (!strip) return;
    if (this.state.stale) {
      this.status.textContent = this.t('stale');
      return;
    }
    const by = this.outcome === 'lay_flat' ? { mm: undefined } : this.read(this.by, { needed: true });
    const sewn = this.read(this.sewn, { needed: false });
    const width = this.width.field.hidden ? { mm: undefined } : this.read(this.width, { needed: false });
    if (!by || !sewn || !width) {
      (!by ? this.by : sewn ? this.width : this.sewn).input.focus();
      return;
    }
    // How far it was stretched is the plan's figure, and so that of a strip as long as planned.
    if (width.mm !== undefined && sewn.mm !== undefined) {
      this.width.setError(this.t('width_as_planned'));
      this.width.input.focus();
      return;
    }
    /** @type {SewnRecord} */
    const record = {
      finish: /** @type {SewnFinish} */ (finishOf(this.state.brief)),
      held_line_mm: strip.held_line_mm,
      strip_mm: sewn.mm ?? strip.relaxed_length_mm,
      outcome: this.outcome,
      by_mm: by.mm,
      recorded: new Date().toISOString().slice(0, 10),
    };
    if (by.mm === undefined) delete record.by_mm;
    if (width.mm !== undefined) {
      const { width_unnarrowed_mm: unnarrowed, stretch_percent: stretch } = strip.narrowing;
      record.width = { sewn_mm: width.mm, unnarrowed_mm: unnarrowed, stretch_percent: stretch };
    }
    if (!this.accepted([...this.records, record])) return;
    this.write([...this.records, record], 'label_record');
    void this.keepWithKnit(record);
    this.by.input.value = '';
    this.sewn.input.value = '';
    this.width.input.value = '';
    this.status.textContent = this.t('recorded', { of: this.of(), what: this.told(record) });
  }

  /** The same ranges hold for a record as for everything else: the core says them. @param {SewnRecord[]} records */
  accepted(records) {
    const answer = this.reckoner.planQuick(this.withRecords(records));
    if (answer.plan) return true;
    const errors = answer.errors ?? [];
    const wrong = errors.find((error) => error.field.includes('learned')) ?? errors[0];
    const { min, max } = wrong?.accepted ?? {};
    const text =
      min !== undefined && max !== undefined ? this.t('range', { min: this.length(min), max: this.length(max) }) : this.t('not_taken');
    const field = wrong?.field ?? '';
    (field.includes('.width') ? this.width : field.endsWith('strip_mm') ? this.sewn : this.by).setError(text);
    return false;
  }

  /** @param {SewnRecord[]} records */
  withRecords(records) {
    const brief = structuredClone(this.state.brief);
    const knit = stripKnit(brief);
    if (records.length) knit.learned = records;
    else delete knit.learned;
    return brief;
  }

  /** @param {SewnRecord[]} records @param {string} label */
  write(records, label) {
    this.state.set(this.withRecords(records), { label: this.t(label) });
  }

  /** @param {number} place */
  remove(place) {
    this.write(
      this.records.filter((_, one) => one !== place),
      'label_remove',
    );
    this.status.textContent = this.t('removed');
  }

  /** @param {SewnRecord} record */
  async keepWithKnit(record) {
    const { brief } = this.state;
    const { name } = stripKnit(brief);
    const { session } = this.page;
    const kept = session.store.list('knits').find((entry) => entry.name === name);
    if (!name || !kept) return;
    const knit = { ...kept.knit, learned: unionOfRecords(kept.knit.learned, [record]) };
    // One record more than a knit may have would make it unusable.
    if (!session.opens({ ...brief, [partOf(brief)]: knit })) return;
    const put = await session.store.put('knits', { ...kept, knit });
    if (put) this.status.textContent = this.t('recorded_with_knit', { of: this.of(), what: this.told(record), name: put.entry.name });
  }
}

/** A day as the language writes it; what is no day, as it stands. @param {string} recorded @param {string} language */
function written(recorded, language) {
  const day = new Date(/^\d{4}-\d{2}-\d{2}$/.test(recorded) ? recorded : NaN);
  // A day without an hour is read as UTC, so it is written so.
  return Number.isNaN(day.getTime()) ? recorded : new Intl.DateTimeFormat(language, { dateStyle: 'medium', timeZone: 'UTC' }).format(day);
}
